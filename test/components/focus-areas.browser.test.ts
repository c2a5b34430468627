import { afterEach, describe, expect, it } from 'vitest';
import { areasIn, areaWithFocus, firstControl } from '../../components/focus-areas.ts';

afterEach(() => document.body.replaceChildren());

describe('areas of a page', () => {
  it('are found through shadow roots in page order, with their first usable control', () => {
    document.body.innerHTML =
      '<nav data-area><button disabled></button><button id="go">Go</button></nav><section></section>';
    const root = document.querySelector('section')!.attachShadow({ mode: 'open' });
    root.innerHTML = '<div data-area><p></p><svg tabindex="0"></svg></div><div data-area>words only</div>';
    const areas = areasIn(document.body);
    expect(areas.length).toBe(3);
    expect(firstControl(areas[0])?.id).toBe('go');
    expect(firstControl(areas[2])).toBeNull();
    expect(areaWithFocus(areas)).toBe(-1);
    firstControl(areas[1])!.focus();
    expect(areaWithFocus(areas)).toBe(1);
  });
});
