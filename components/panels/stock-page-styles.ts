import { css } from 'lit';

export const stockPageStyles = css`
  .grid {
    display: grid;
    grid-template-columns: minmax(0, 1fr) minmax(0, 1fr) 340px;
    grid-template-areas:
      'map margin align'
      'key key align'
      'outline section align'
      'here view align';
    grid-template-rows: auto auto auto 1fr;
    gap: 18px 24px;
    margin: 16px 0 20px;
  }
  .map {
    grid-area: map;
    min-width: 0;
  }
  .margin {
    grid-area: margin;
    min-width: 0;
  }
  .key {
    grid-area: key;
  }
  .outline {
    grid-area: outline;
    overflow-x: auto;
  }
  .section {
    grid-area: section;
    min-width: 0;
  }
  .align {
    grid-area: align;
    min-width: 0;
  }
  .here {
    grid-area: here;
    min-width: 0;
  }
  .view {
    grid-area: view;
    min-width: 0;
  }
  .ruled {
    border-top: 1px solid var(--foil-line);
    padding-top: 14px;
    margin-top: 20px;
  }
  .warnings {
    display: grid;
    gap: 8px;
    margin-top: 16px;
  }
  @media print {
    :host-context([data-print='card']) > :not(foil-offset-card) {
      display: none;
    }
  }
  @media (max-width: 1240px) {
    .grid {
      grid-template-columns: minmax(0, 1fr) 300px;
      grid-template-areas:
        'map align'
        'key align'
        'here align'
        'outline align'
        'margin align'
        'section view';
      grid-template-rows: repeat(4, auto) 1fr auto;
    }
  }
  @media (max-width: 760px) {
    .grid {
      grid-template-columns: minmax(0, 1fr);
      grid-template-areas: 'map' 'key' 'here' 'align' 'outline' 'margin' 'section' 'view';
      grid-template-rows: none;
    }
  }
`;
