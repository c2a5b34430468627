import { css } from 'lit';

/** Rules of plain tables: one line a row, numbers to the right, wide ones scroll by themselves. */
export const tableStyles = css`
  .scroll {
    overflow: auto;
    max-height: 44vh;
  }
  table {
    border-collapse: collapse;
    width: 100%;
    font-size: var(--foil-small);
  }
  th,
  td {
    text-align: left;
    font-weight: 400;
    padding: 0 14px 0 6px;
    height: var(--foil-row);
    white-space: nowrap;
    border-bottom: 1px solid var(--foil-line);
  }
  thead th {
    color: var(--foil-muted);
  }
  .numeric {
    text-align: right;
  }
  tr[aria-current='true'] {
    background: var(--foil-hover);
  }
  td button {
    min-height: 24px;
    padding: 0 8px;
  }
  :host-context([data-density='roomy']) td button {
    min-height: 48px;
  }
  :host([stale]) table {
    opacity: 0.5;
  }
`;
