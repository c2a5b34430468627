import { css } from 'lit';

export const appStyles = css`
  :host {
    min-height: 100vh;
    display: flex;
    flex-direction: column;
    background: var(--foil-page);
  }
  header {
    display: flex;
    align-items: center;
    gap: 4px clamp(10px, 2vw, 26px);
    padding: 0 clamp(12px, 2.2vw, 32px);
    border-bottom: 1px solid var(--foil-edge);
    min-height: 52px;
  }
  .name {
    font-weight: 700;
    letter-spacing: -0.01em;
  }
  nav {
    display: flex;
    gap: 4px;
    align-self: stretch;
  }
  nav button {
    border: 0;
    border-radius: 0;
    background: none;
    padding: 0 14px;
    min-height: 52px;
    font-size: 1rem;
    box-shadow: none;
  }
  nav button[aria-current='page'] {
    font-weight: 650;
    border-bottom: 3px solid var(--foil-ink);
    padding-top: 3px;
  }
  nav button:focus-visible {
    outline-offset: -4px;
  }
  .status {
    flex: 1 1 0;
    min-width: 0;
    overflow: hidden;
    text-overflow: ellipsis;
    white-space: nowrap;
    text-align: right;
  }
  .tools {
    margin-left: auto;
    display: flex;
    align-items: center;
    gap: var(--foil-gap);
  }
  .tools button {
    border-color: transparent;
    background: transparent;
  }
  .tools button:hover {
    border-color: var(--foil-edge);
  }
  @media (max-width: 640px) {
    header {
      flex-wrap: wrap;
    }
    nav {
      order: 1;
      flex: 1 1 100%;
      gap: 0;
    }
    nav button {
      padding: 0 clamp(5px, 2vw, 14px);
    }
  }
  main {
    flex: 1;
    padding: 0 clamp(12px, 2.2vw, 32px) 28px;
  }
  main:focus-visible {
    outline: none;
    box-shadow: none;
  }
  footer {
    padding: 10px clamp(12px, 2.2vw, 32px) 16px;
    border-top: 1px solid var(--foil-line);
    font-size: var(--foil-small);
    color: var(--foil-muted);
  }
  @media print {
    :host-context([data-print='card']) header,
    :host-context([data-print='card']) footer {
      display: none;
    }
  }
`;
