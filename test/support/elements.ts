import type { LitElement } from 'lit';
import type { FoilEvent, FoilEvents } from '../../components/events.ts';

/** Puts an element with properties on the page, drawn. */
export async function put<K extends keyof HTMLElementTagNameMap>(
  name: K,
  properties: Partial<HTMLElementTagNameMap[K]>,
): Promise<HTMLElementTagNameMap[K] & LitElement> {
  const element = Object.assign(document.createElement(name), properties) as HTMLElementTagNameMap[K] & LitElement;
  document.body.append(element);
  await element.updateComplete;
  return element;
}

/** The first match inside an element's own tree. */
export const within = <T extends Element>(element: LitElement, selector: string): T =>
  element.renderRoot.querySelector<T>(selector)!;

/** Presses a key on an element; false when something took it. */
export const press = (on: Element, key: string, more: KeyboardEventInit = {}): boolean =>
  on.dispatchEvent(new KeyboardEvent('keydown', { key, bubbles: true, composed: true, cancelable: true, ...more }));

/** Everything of one event that reaches the document from now on. */
export function heard<K extends keyof FoilEvents>(name: K): FoilEvents[K][] {
  const list: FoilEvents[K][] = [];
  document.addEventListener(name, ((e: FoilEvent<K>) => list.push(e.detail)) as unknown as EventListener);
  return list;
}
