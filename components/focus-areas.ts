/** The areas of a page that F6 goes through: everything marked with data-area, shadow roots included, in page order. */
export function areasIn(root: ParentNode): HTMLElement[] {
  const found: HTMLElement[] = [];
  const walk = (node: ParentNode): void => {
    for (const child of node.children) {
      if (child instanceof HTMLElement && child.dataset.area !== undefined) found.push(child);
      if (child.shadowRoot) walk(child.shadowRoot);
      walk(child);
    }
  };
  walk(root);
  return found;
}

const TABBABLE = 'button:not(:disabled), select, input:not([hidden]), iframe, [tabindex="0"]';

/** The first control inside an area that Tab would reach; null when it holds none. */
export function firstControl(area: ParentNode): HTMLElement | SVGElement | null {
  for (const child of area.children) {
    if ((child instanceof HTMLElement || child instanceof SVGElement) && child.matches(TABBABLE)) return child;
    const inside = (child.shadowRoot && firstControl(child.shadowRoot)) ?? firstControl(child);
    if (inside) return inside;
  }
  return null;
}

/** Index of the area that holds the focus; −1 when none does. */
export function areaWithFocus(areas: readonly HTMLElement[]): number {
  return areas.findLastIndex((area) => area.matches(':focus-within'));
}
