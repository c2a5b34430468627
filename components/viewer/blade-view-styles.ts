import { css } from 'lit';

export const bladeViewStyles = css`
  .stage {
    position: relative;
    overflow: hidden;
    border: 1px solid var(--foil-line);
  }
  canvas {
    display: block;
    background: var(--foil-stage);
    width: 100%;
    height: var(--foil-view-height, 300px);
    touch-action: none;
    cursor: crosshair;
  }
  canvas:focus-visible {
    outline-offset: -2px;
  }
  .marker {
    position: absolute;
    width: 13px;
    height: 13px;
    margin: -7px 0 0 -7px;
    border: 2px solid var(--foil-ink);
    border-radius: 50%;
    box-shadow:
      0 0 0 1.5px var(--foil-page),
      inset 0 0 0 1.5px var(--foil-page);
    pointer-events: none;
  }
  .marker.behind {
    border-style: dotted;
    opacity: 0.75;
  }
  .marker span {
    position: absolute;
    left: 16px;
    top: -5px;
    font-size: 12px;
    background: var(--foil-page);
    padding: 0 3px;
  }
  .buttons {
    margin-top: var(--foil-gap);
  }
  .directions {
    display: grid;
    grid-template-columns: repeat(3, 1fr);
    gap: 4px;
    flex: 1 1 100%;
  }
  .directions button {
    padding: 0 2px;
    min-height: 28px;
    font-size: 12px;
    white-space: nowrap;
    min-width: 0;
  }
  :host-context([data-density='roomy']) .directions button {
    min-height: 48px;
  }
  .note {
    border: 1px dashed var(--foil-edge);
    padding: 12px;
  }
  .over {
    position: absolute;
    inset: auto 8px 8px;
    background: var(--foil-page);
  }
  :host([stale]) canvas {
    opacity: 0.45;
  }
`;
