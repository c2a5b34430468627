import { css } from 'lit';

export const rowDialogStyles = css`
  dialog {
    width: min(1120px, 96vw);
    max-height: 94vh;
    padding: 0;
    border: 1px solid var(--foil-ink);
    border-radius: 4px;
    background: var(--foil-page);
    color: var(--foil-ink);
    overflow: hidden;
  }
  dialog[open] {
    display: flex;
    flex-direction: column;
  }
  dialog::backdrop {
    background: rgb(10 12 14 / 45%);
  }
  .head,
  .foot {
    padding: 12px 20px;
    flex: none;
  }
  .head {
    border-bottom: 1px solid var(--foil-line);
  }
  .foot {
    border-top: 1px solid var(--foil-line);
  }
  .head h2 {
    margin: 0;
    font-size: 1.05rem;
  }
  .numbers {
    border-collapse: collapse;
    margin-top: 6px;
  }
  .numbers th,
  .numbers td {
    text-align: left;
    font-weight: 400;
    font-size: var(--foil-small);
    padding: 1px 22px 1px 0;
    white-space: nowrap;
  }
  .numbers thead th {
    color: var(--foil-muted);
  }
  .numbers .value {
    font-size: 1.25rem;
    font-weight: 600;
  }
  .wide {
    overflow-x: auto;
  }
  .body {
    display: grid;
    grid-template-columns: minmax(0, 11fr) minmax(0, 12fr);
    gap: 0 28px;
    padding: 12px 20px 16px;
    overflow: auto;
    flex: 1 1 auto;
    min-height: 0;
  }
  .proof {
    display: grid;
    gap: 16px;
    align-content: start;
  }
  .body[data-single] {
    grid-template-columns: minmax(0, 1fr);
  }
  @media (max-width: 860px) {
    .body {
      grid-template-columns: minmax(0, 1fr);
      row-gap: 18px;
    }
  }
`;
