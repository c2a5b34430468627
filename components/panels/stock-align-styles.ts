import { css } from 'lit';

export const stockAlignStyles = css`
  :host {
    container-type: inline-size;
  }
  .fits {
    display: flex;
    flex-wrap: wrap;
    gap: var(--foil-gap);
    margin-bottom: 4px;
  }
  .trial {
    border: 2px solid var(--foil-ink);
    border-radius: 3px;
    padding: 6px 10px;
    margin: 8px 0;
  }
  .motion {
    display: grid;
    grid-template-columns: 4.6em minmax(0, 1fr) auto;
    align-items: center;
    gap: 0 8px;
    padding: 4px 0;
    border-top: 1px solid var(--foil-line);
  }
  .motion > .name {
    font-size: var(--foil-small);
    font-weight: 600;
  }
  .motion foil-curve {
    grid-column: 1 / -1;
  }
  .field {
    display: grid;
    grid-template-columns: 4.6em minmax(0, 1fr);
    align-items: center;
    gap: 4px 8px;
    font-size: var(--foil-small);
    min-height: var(--foil-target);
  }
  /* Where value and lock do not fit into one line, the lock goes up to the name. */
  @container (max-width: 330px) {
    .motion {
      grid-template-columns: minmax(0, 1fr) auto;
    }
    .motion foil-number {
      grid-area: 2 / 1 / 3 / -1;
    }
  }
  @container (max-width: 410px) {
    :host-context([data-density='roomy']) .motion {
      grid-template-columns: minmax(0, 1fr) auto;
    }
    :host-context([data-density='roomy']) .motion foil-number {
      grid-area: 2 / 1 / 3 / -1;
    }
    :host-context([data-density='roomy']) .field {
      grid-template-columns: minmax(0, 1fr);
    }
  }
  .motion[data-moved] .name::after {
    content: ' Trial';
    font-weight: 400;
    color: var(--foil-muted);
  }
  .legend {
    margin: 4px 0 8px;
  }
  details {
    font-size: var(--foil-small);
    margin: 4px 0;
  }
  summary {
    cursor: pointer;
    min-height: var(--foil-target);
    line-height: var(--foil-target);
  }
  .ranges {
    display: grid;
    grid-template-columns: 5.5em repeat(2, minmax(0, 1fr));
    gap: 4px 8px;
    align-items: center;
  }
  .ranges input[type='text'] {
    width: 100%;
    text-align: right;
  }
  .wanted {
    border-top: 1px solid var(--foil-edge);
    margin-top: 8px;
    padding-top: 10px;
  }
`;
