import { css, type SVGTemplateResult, svg } from 'lit';
import { INK, RAMP, type Step } from '../../src/report/colours.ts';

/** Rules every plot shares. Lines are ink, violet or green: blue and orange mean missing and extra material. */
export const plotStyles = css`
  :host {
    position: relative;
  }
  svg {
    display: block;
    overflow: visible;
    font-size: 12px;
    touch-action: none;
    user-select: none;
  }
  .focus {
    cursor: crosshair;
  }
  .tick {
    fill: var(--foil-muted);
  }
  .grid {
    stroke: var(--foil-line);
    stroke-width: 1;
  }
  .axis {
    stroke: var(--foil-edge);
    stroke-width: 1;
    fill: none;
  }
  .zero {
    stroke: var(--foil-ink);
    stroke-width: 1;
  }
  .limit {
    fill: none;
    stroke: var(--foil-third);
    stroke-width: 1.4;
    stroke-dasharray: 1.5 3;
    stroke-linecap: round;
  }
  .nominal {
    fill: none;
    stroke: var(--foil-second);
    stroke-width: 1.3;
    stroke-dasharray: 6 4;
  }
  .measured {
    fill: none;
    stroke: var(--foil-ink);
    stroke-width: 1.4;
    stroke-linejoin: round;
  }
  .cross {
    stroke: var(--foil-ink);
    stroke-width: 1;
  }
  .halo {
    stroke: var(--foil-page);
    stroke-width: 3.5;
    fill: none;
  }
  /* On data colours, which do not change with the theme. */
  .on-data {
    stroke: #14181d;
    stroke-width: 1.1;
    fill: none;
  }
  .under-data {
    stroke: #ffffff;
    stroke-width: 3.5;
    fill: none;
  }
  /* The crosshair lies on a layer of its own, so that moving it does not paint the picture again. */
  .layers {
    position: relative;
    contain: layout;
  }
  .over {
    position: absolute;
    inset: 0;
    pointer-events: none;
    will-change: transform;
  }
  .caption {
    font-size: var(--foil-small);
  }
  :host([stale]) svg {
    opacity: 0.45;
  }
`;

/** Stripes of the two signs in both inks, and the dots of "not measured". Used by id within one shadow root. */
export function patternDefs(): SVGTemplateResult {
  const stripes = (id: string, path: string, ink: string): SVGTemplateResult =>
    svg`<pattern id=${id} width="6" height="6" patternUnits="userSpaceOnUse"><path d=${path} stroke=${ink} stroke-width="0.9" fill="none"></path></pattern>`;
  const less = 'M-1-1L7 7M-1 5L1 7M5-1L7 1';
  const more = 'M-1 7L7-1M-1 1L1-1M5 7L7 5';
  return svg`<defs>
    ${stripes('less-dark', less, INK)} ${stripes('less-pale', less, '#FFFFFF')}
    ${stripes('more-dark', more, INK)} ${stripes('more-pale', more, '#FFFFFF')}
    <pattern id="dots" width="5" height="5" patternUnits="userSpaceOnUse"><circle cx="1.5" cy="1.5" r="0.85" fill="var(--foil-map-line)"></circle></pattern>
  </defs>`;
}

/** Areas of the ramp: fill, and over it the stripes that carry the sign. */
export function stepAreas(areas: readonly { step: Step; path: string }[]): SVGTemplateResult[] {
  return areas.map(({ step, path }) => {
    const { colour, ink } = RAMP[step + 4];
    const id = `${step < 0 ? 'less' : 'more'}-${ink === INK ? 'dark' : 'pale'}`;
    return svg`<path d=${path} fill=${colour} data-step=${step}></path>${ink === null ? null : svg`<path d=${path} fill="url(#${id})"></path>`}`;
  });
}
