import type { ReactiveController, ReactiveControllerHost } from 'lit';
import type { Results } from '../../src/model/results.ts';
import type { FoilEvent } from '../events.ts';
import { type Hub, hubOf, type ShownLimits, shownLimits } from './hub.ts';

/** Half width of the trial limits where the plan gives none (mm); a round number, never taken from the data. */
const TRIAL = 0.05;
const MOST_ZOOM = 8;

/** Keeps the map's room, scale, zoom and trial limits for a page, and lays the map out once a change. */
export class HubController implements ReactiveController {
  scale: 'true' | 'stretched' = 'true';
  zoom = 1;
  trial = TRIAL;
  width = 0;
  private kept: { key: string; results: Results; limits: ShownLimits; plain: Hub | null; zoomed: Hub | null } | null =
    null;
  private observer = new ResizeObserver(() => this.measure());
  private watched: Element | null = null;

  private host: ReactiveControllerHost;
  private column: () => Element | null;
  private room: (width: number) => number;

  /**
   * @param column element whose width is the map's
   * @param room height the map may take (px) at a width
   */
  constructor(host: ReactiveControllerHost, column: () => Element | null, room: (width: number) => number) {
    this.host = host;
    this.column = column;
    this.room = room;
    host.addController(this);
  }

  hostUpdated(): void {
    const column = this.column();
    if (column === this.watched) return;
    this.observer.disconnect();
    this.watched = column;
    if (column) this.observer.observe(column);
  }

  hostDisconnected(): void {
    this.observer.disconnect();
    this.watched = null;
  }

  private measure(): void {
    const width = Math.floor(this.watched?.clientWidth ?? 0);
    if (width === this.width || width === 0) return;
    this.width = width;
    this.host.requestUpdate();
  }

  /** Limits and layout for these results; `plain` is unzoomed and lends its axes, `zoomed` is what the map draws. */
  layout(results: Results): { limits: ShownLimits; plain: Hub | null; zoomed: Hub | null } {
    const key = [this.scale, this.zoom, this.trial, this.width].join();
    if (this.kept?.key === key && this.kept.results === results) return this.kept;
    const limits = shownLimits(results, this.trial);
    const room = { width: this.width, height: this.room(this.width) };
    const plain = this.width === 0 ? null : hubOf(results, limits, room, this.scale);
    const bigger = { width: room.width * this.zoom, height: room.height * this.zoom };
    const zoomed = this.zoom === 1 || plain === null ? plain : hubOf(results, limits, bigger, this.scale);
    this.kept = { key, results, limits, plain, zoomed };
    return this.kept;
  }

  onView = (event: FoilEvent<'foil-view'>): void => {
    event.stopPropagation();
    const { view } = event.detail;
    if (view === 'in') this.zoom = Math.min(MOST_ZOOM, this.zoom * 2);
    else if (view === 'out') this.zoom = Math.max(1, this.zoom / 2);
    else if (view === 'all') this.zoom = 1;
    else this.scale = this.scale === 'true' ? 'stretched' : 'true';
    this.host.requestUpdate();
  };

  onTrial = (event: FoilEvent<'foil-limits-change'>): void => {
    event.stopPropagation();
    this.trial = event.detail.trial;
    this.host.requestUpdate();
  };
}
