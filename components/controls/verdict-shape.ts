import { type SVGTemplateResult, svg } from 'lit';
import type { Verdict } from '../../src/model/results.ts';

/** The shape of a verdict about the origin, 14 units wide: ring, filled square, diamond, dashed ring, dot. */
export function verdictShape(verdict: Verdict): SVGTemplateResult {
  switch (verdict) {
    case 'pass':
      return svg`<circle r="6" fill="none" stroke="var(--foil-pass)" stroke-width="1.5"></circle><path d="M-3 0l2.2 2.6L3.2-2.6" fill="none" stroke="var(--foil-pass)" stroke-width="1.8"></path>`;
    case 'fail':
      return svg`<rect x="-7" y="-7" width="14" height="14" fill="var(--foil-fail)"></rect><path d="M-3.4-3.4l6.8 6.8M3.4-3.4l-6.8 6.8" stroke="var(--foil-page)" stroke-width="2"></path>`;
    case 'not-proven':
      return svg`<path d="M0-7.4L7.4 0 0 7.4-7.4 0z" fill="none" stroke="var(--foil-unproven)" stroke-width="1.5"></path><path d="M-1.9-1.6c0-2.6 3.8-2.6 3.8-.3 0 1.4-1.9 1.4-1.9 2.9M0 2.7v1.5" fill="none" stroke="var(--foil-unproven)" stroke-width="1.5"></path>`;
    case 'not-measured':
      return svg`<circle r="6" fill="none" stroke="var(--foil-unmeasured)" stroke-width="1.5" stroke-dasharray="2.6 2.2"></circle><path d="M-2.8 0h5.6" stroke="var(--foil-unmeasured)" stroke-width="1.6"></path>`;
    default:
      return svg`<circle r="2" fill="var(--foil-unmeasured)"></circle>`;
  }
}
