import { css } from 'lit';

/**
 * Colours, sizes and type of the whole app as custom properties of the document. Data colours are not here: they come
 * from the report's ramp and do not change with the theme. No control uses blue or orange; those two mean less and more.
 */
const tokens = css`
  :root {
    color-scheme: light;
    --foil-page: #ffffff;
    --foil-panel: #f5f6f7;
    --foil-ink: #14181d;
    --foil-muted: #4d5661;
    --foil-line: #d5d9de;
    --foil-edge: #7b848f;
    --foil-hover: #e9ebee;
    --foil-solid: #14181d;
    --foil-on-solid: #ffffff;
    --foil-second: #7a2e8e;
    --foil-third: #00695c;
    --foil-pass: #005a63;
    --foil-fail: #8a1538;
    --foil-unproven: #7a5200;
    --foil-unmeasured: #5b6570;
    --foil-map-line: #5b6570;
    --foil-stage: #c6c7c8;
    --foil-outline: #14181d;
    --foil-target: 32px;
    --foil-row: 28px;
    --foil-gap: 6px;
    --foil-size: 16px;
    --foil-small: 13px;
    font-family: system-ui, -apple-system, 'Segoe UI', 'Noto Sans', 'DejaVu Sans', sans-serif;
    font-size: var(--foil-size);
    line-height: 1.45;
    font-variant-numeric: tabular-nums slashed-zero;
    background: var(--foil-page);
    color: var(--foil-ink);
  }
  :root[data-theme='dark'] {
    color-scheme: dark;
    --foil-page: #15181c;
    --foil-panel: #1c2025;
    --foil-ink: #e8eaed;
    --foil-muted: #adb5bf;
    --foil-line: #343a42;
    --foil-edge: #8a939e;
    --foil-hover: #2a2f36;
    --foil-solid: #e8eaed;
    --foil-on-solid: #15181c;
    --foil-second: #d9a0ea;
    --foil-third: #7fd1c4;
    --foil-pass: #5fc7d2;
    --foil-fail: #ff8fa3;
    --foil-unproven: #f0c25c;
    --foil-unmeasured: #a9b2bc;
    --foil-map-line: #c3cad2;
    --foil-stage: #23282f;
    --foil-outline: #c3cad2;
  }
  :root[data-density='roomy'] {
    --foil-target: 48px;
    --foil-row: 48px;
    --foil-gap: 8px;
    --foil-size: 18px;
    --foil-small: 15px;
  }
  @media (prefers-contrast: more) {
    :root {
      --foil-muted: var(--foil-ink);
      --foil-line: var(--foil-edge);
    }
  }
  body {
    margin: 0;
  }
`;

/** Puts the tokens on a document once. */
export function installTokens(target: Document): void {
  const sheet = tokens.styleSheet;
  if (sheet && !target.adoptedStyleSheets.includes(sheet)) {
    target.adoptedStyleSheets = [...target.adoptedStyleSheets, sheet];
  }
}
