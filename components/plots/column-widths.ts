import type { ReactiveController, ReactiveControllerHost } from 'lit';

/** Follows the widths of a page's columns, which come and go with what is drawn. */
export class ColumnWidths implements ReactiveController {
  /** Widths (px) in the order of the columns; 0 for one that is not there. */
  widths: number[] = [];
  private host: ReactiveControllerHost;
  private columns: () => readonly (Element | null)[];
  private watched: readonly (Element | null)[] = [];
  private observer = new ResizeObserver(() => {
    this.widths = this.watched.map((column) => Math.floor(column?.clientWidth ?? 0));
    this.host.requestUpdate();
  });

  constructor(host: ReactiveControllerHost, columns: () => readonly (Element | null)[]) {
    this.host = host;
    this.columns = columns;
    host.addController(this);
  }

  hostUpdated(): void {
    const columns = this.columns();
    if (columns.every((column, i) => column === this.watched[i])) return;
    this.observer.disconnect();
    this.watched = columns;
    for (const column of columns) if (column) this.observer.observe(column);
  }

  hostDisconnected(): void {
    this.observer.disconnect();
    this.watched = [];
  }
}
