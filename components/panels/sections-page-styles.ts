import { css } from 'lit';

export const sectionsPageStyles = css`
  .grid {
    display: grid;
    grid-template-columns: minmax(0, 4fr) minmax(0, 6fr) 280px;
    grid-template-areas:
      'map margin here'
      'key key here'
      'outline section here'
      'edges section here';
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
  .here {
    grid-area: here;
    display: grid;
    gap: 20px;
    align-self: start;
    position: sticky;
    top: 12px;
  }
  .outline {
    grid-area: outline;
    overflow-x: auto;
  }
  .section {
    grid-area: section;
    display: grid;
    gap: 14px;
    align-content: start;
    min-width: 0;
  }
  .edges {
    grid-area: edges;
    display: grid;
    gap: 16px;
    align-content: start;
    min-width: 0;
  }
  .key {
    grid-area: key;
    align-self: start;
  }
  foil-fault-list {
    margin-bottom: 20px;
  }
  foil-fault-list,
  foil-characteristic-table {
    border-top: 1px solid var(--foil-line);
    padding-top: 14px;
  }
  @media (max-width: 1240px) {
    .grid {
      grid-template-columns: minmax(0, 1fr) 270px;
      grid-template-areas:
        'map here'
        'outline here'
        'key key'
        'margin margin'
        'section section'
        'edges edges';
    }
    .here {
      position: static;
    }
  }
  @media (max-width: 700px) {
    .grid {
      grid-template-columns: minmax(0, 1fr);
      grid-template-areas: 'map' 'here' 'key' 'outline' 'margin' 'section' 'edges';
    }
  }
`;
