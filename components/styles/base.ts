import { css } from 'lit';

/** Rules every element shares: box model, focus ring in two tones, buttons, fields, panel headings, hidden text. */
export const base = css`
  :host {
    display: block;
    color: var(--foil-ink);
    min-width: 0;
  }
  :host([hidden]) {
    display: none;
  }
  *,
  *::before,
  *::after {
    box-sizing: border-box;
  }
  :focus-visible {
    outline: 2px solid var(--foil-ink);
    outline-offset: 2px;
    box-shadow: 0 0 0 2px var(--foil-page);
  }
  h2,
  h3 {
    margin: 0 0 var(--foil-gap);
    font-size: var(--foil-small);
    font-weight: 650;
    color: var(--foil-ink);
    letter-spacing: 0.01em;
  }
  p {
    margin: 0;
  }
  .muted {
    color: var(--foil-muted);
  }
  .small {
    font-size: var(--foil-small);
  }
  .row {
    display: flex;
    flex-wrap: wrap;
    align-items: center;
    gap: var(--foil-gap);
  }
  .between {
    display: flex;
    flex-wrap: wrap;
    align-items: baseline;
    justify-content: space-between;
    gap: var(--foil-gap) calc(2 * var(--foil-gap));
  }
  .number {
    font-variant-numeric: tabular-nums slashed-zero;
    white-space: nowrap;
  }
  button,
  select,
  input {
    font: inherit;
    font-size: var(--foil-small);
    color: inherit;
    min-height: var(--foil-target);
  }
  button {
    min-width: var(--foil-target);
    padding: 0 12px;
    border: 1px solid var(--foil-edge);
    border-radius: 3px;
    background: var(--foil-page);
    cursor: pointer;
  }
  button:hover:not(:disabled) {
    background: var(--foil-hover);
  }
  button:disabled {
    color: var(--foil-muted);
    border-style: dashed;
    cursor: not-allowed;
  }
  button[aria-pressed='true'],
  button.strong {
    background: var(--foil-solid);
    color: var(--foil-on-solid);
    border-color: var(--foil-solid);
  }
  button.strong:hover:not(:disabled),
  button[aria-pressed='true']:hover {
    background: var(--foil-muted);
  }
  button.strong:disabled {
    background: var(--foil-page);
    color: var(--foil-muted);
    border-color: var(--foil-edge);
  }
  button.quiet {
    border-color: transparent;
    background: transparent;
    text-decoration: underline;
    text-underline-offset: 3px;
  }
  .group {
    display: inline-flex;
  }
  .group button {
    border-radius: 0;
    margin-left: -1px;
    padding: 0 9px;
  }
  .group button:first-child {
    border-radius: 3px 0 0 3px;
    margin-left: 0;
  }
  .group button:last-child {
    border-radius: 0 3px 3px 0;
  }
  .group button:focus-visible {
    z-index: 1;
  }
  select,
  input[type='text'],
  input[type='number'] {
    border: 1px solid var(--foil-edge);
    border-radius: 3px;
    background: var(--foil-page);
    padding: 0 8px;
  }
  input[type='radio'],
  input[type='checkbox'] {
    min-height: 0;
    width: 18px;
    height: 18px;
    accent-color: var(--foil-ink);
    margin: 0;
    flex: none;
  }
  label.choice {
    display: inline-flex;
    align-items: center;
    gap: 8px;
    min-height: var(--foil-target);
    font-size: var(--foil-small);
  }
  .out {
    position: absolute;
    width: 1px;
    height: 1px;
    overflow: hidden;
    clip-path: inset(50%);
    white-space: nowrap;
  }
  @media (prefers-reduced-motion: reduce) {
    * {
      transition: none;
      animation: none;
    }
  }
  svg text {
    font-family: inherit;
    fill: currentColor;
    font-variant-numeric: tabular-nums;
  }
`;
