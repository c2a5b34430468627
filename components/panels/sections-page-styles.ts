import { css } from 'lit';

export const sectionsPageStyles = css`
  .grid {
    display: grid;
    grid-template-columns: minmax(0, 5fr) minmax(0, 7fr) 290px;
    grid-template-areas:
      'map margin here'
      'outline section here'
      'key edges here';
    gap: 20px 24px;
    margin: 16px 0 20px;
  }
  .map {
    grid-area: map;
    min-width: 0;
  }
  .margin {
    grid-area: margin;
    display: flex;
    gap: 18px;
    min-width: 0;
  }
  .here {
    grid-area: here;
    display: grid;
    gap: 20px;
    align-content: start;
  }
  .outline {
    grid-area: outline;
    overflow-x: auto;
  }
  .section {
    grid-area: section;
  }
  .edges {
    grid-area: edges;
  }
  .key {
    grid-area: key;
    align-self: start;
  }
  .side-by-side {
    display: flex;
  }
  .strips {
    flex: none;
  }
  .trends {
    min-width: 0;
    flex: 1;
  }
  .trends .side-by-side {
    overflow-x: auto;
  }
  .strips .between,
  .trends .between {
    min-height: 32px;
    align-items: baseline;
  }
  .small-button {
    min-height: 28px;
    padding: 0 8px;
  }
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
        'margin margin'
        'section section'
        'edges edges'
        'key key';
    }
  }
  @media (max-width: 700px) {
    .grid {
      grid-template-columns: minmax(0, 1fr);
      grid-template-areas: 'map' 'here' 'outline' 'margin' 'section' 'edges' 'key';
    }
    .margin {
      flex-wrap: wrap;
    }
  }
`;
