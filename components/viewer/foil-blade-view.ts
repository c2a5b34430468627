import { html, LitElement, nothing, type PropertyValues, type TemplateResult } from 'lit';
import { customElement, property, query, state } from 'lit/decorators.js';
import type { Results } from '../../src/model/results.ts';
import type { Drawing } from '../../src/pipeline.ts';
import { emit } from '../events.ts';
import type { ShownLimits } from '../plots/hub.ts';
import { rowRange, type Selection, selectPlace } from '../state/selection.ts';
import { base } from '../styles/base.ts';
import { bladeViewStyles } from './blade-view-styles.ts';
import { DIRECTIONS, type Direction, moved, named, type Orbit, sideYaws, turned, zoomed } from './orbit.ts';
import type { BladeScene, Projected } from './scene.ts';
import { nearestVertex, vertexShares } from './vertex-steps.ts';

const TURN = (5 * Math.PI) / 180;

/**
 * @summary The part in parallel projection with the map's colours; every gesture has a button and a key.
 * @fires foil-select - a place picked on the part
 * @fires foil-context-lost - the browser took the picture away; it is drawn again when it comes back
 */
@customElement('foil-blade-view')
export class FoilBladeView extends LitElement {
  static override styles = [base, bladeViewStyles];

  @property({ attribute: false }) results!: Results;
  @property({ attribute: false }) drawing!: Drawing;
  @property({ attribute: false }) limits!: ShownLimits;
  @property({ attribute: false }) selection: Selection = {};
  @property() theme: 'light' | 'dark' = 'light';
  @property({ type: Boolean, reflect: true }) stale = false;
  @state() private status: 'loading' | 'drawn' | 'lost' | 'missing' = 'loading';
  @state() private marker: Projected | null = null;
  @query('canvas') private canvas!: HTMLCanvasElement;

  private scene: BladeScene | null = null;
  private orbit: Orbit = { yaw: 0, pitch: 0, zoom: 1, panX: 0, panY: 0 };
  private yaws = { suction: 0, pressure: 0, leading: 0, trailing: 0 };
  private chosen = -1;
  private drag: { x: number; y: number; travelled: number } | null = null;
  private observer = new ResizeObserver(() => this.fitCanvas());

  override connectedCallback(): void {
    super.connectedCallback();
    if (this.hasUpdated && !this.scene) void this.start();
  }

  override disconnectedCallback(): void {
    this.observer.disconnect();
    this.scene?.dispose();
    this.scene = null;
    super.disconnectedCallback();
  }

  override firstUpdated(): void {
    void this.start();
  }

  private async start(): Promise<void> {
    const { createScene } = await import('./scene.ts');
    if (!this.isConnected || this.scene) return;
    try {
      this.scene = createScene(this.canvas, () => this.placeMarker());
    } catch {
      this.status = 'missing';
      return;
    }
    this.observer.observe(this.canvas);
    this.fill();
    this.fitCanvas();
    this.look(this.sideOfPlace());
    this.status = 'drawn';
  }

  override updated(changed: PropertyValues<this>): void {
    if (!this.scene) return;
    if (changed.has('drawing') && changed.get('drawing')?.positions !== this.drawing.positions) this.fill();
    else if (changed.has('drawing') || changed.has('limits')) this.colour();
    if (changed.has('selection')) {
      this.mark();
      this.showPlace();
    }
    if (changed.has('theme')) this.paint();
  }

  private fill(): void {
    this.scene!.setDrawing(this.drawing);
    this.yaws = sideYaws(this.drawing);
    this.colour();
    this.paint();
    this.mark();
  }

  private colour(): void {
    const ranges = new Map<number, [number, number]>();
    const limitsOf = (height: number, along: number) => {
      const key = Math.round(height * 20);
      const range = ranges.get(key) ?? rowRange(this.results, height) ?? [0, 0];
      ranges.set(key, range);
      return this.limits.at(height, along, range[0], range[1]);
    };
    this.scene!.setShares(vertexShares(this.drawing, limitsOf));
  }

  private paint(): void {
    const style = getComputedStyle(this);
    const read = (name: string, other: string): string => style.getPropertyValue(name).trim() || other;
    this.scene!.setColours(
      read('--foil-stage', '#ffffff'),
      read('--foil-map-line', '#5b6570'),
      read('--foil-outline', '#14181d'),
    );
  }

  private mark(): void {
    const { height, along } = this.selection;
    this.chosen = height === undefined ? -1 : nearestVertex(this.drawing, height, along ?? 0);
    this.scene!.setChosen(height ?? null);
  }

  private sideOfPlace(): Direction {
    return (this.selection.along ?? 0) > 0 ? 'pressure' : 'suction';
  }

  /** Turns the part when the chosen place would be hidden on its far side. */
  private showPlace(): void {
    if (this.scene?.project(this.chosen)?.behind) this.look(this.sideOfPlace());
  }

  private placeMarker(): void {
    this.marker = this.scene?.project(this.chosen) ?? null;
  }

  private fitCanvas(): void {
    const box = this.canvas.getBoundingClientRect();
    if (box.width > 0) this.scene?.resize(box.width, box.height, devicePixelRatio);
  }

  private to(orbit: Orbit): void {
    this.orbit = orbit;
    this.scene?.setOrbit(orbit);
  }

  private look(direction: Direction): void {
    this.to(named(direction, this.yaws));
  }

  private down(event: PointerEvent): void {
    this.canvas.setPointerCapture(event.pointerId);
    this.drag = { x: event.clientX, y: event.clientY, travelled: 0 };
  }

  private move(event: PointerEvent): void {
    if (!this.drag || !this.scene) return;
    const [dx, dy] = [event.clientX - this.drag.x, event.clientY - this.drag.y];
    this.drag = { x: event.clientX, y: event.clientY, travelled: this.drag.travelled + Math.hypot(dx, dy) };
    const scale = this.scene.mmPerPixel();
    if (event.shiftKey || (event.buttons & 6) !== 0) this.to(moved(this.orbit, -dx * scale, dy * scale));
    else this.to(turned(this.orbit, -dx * 0.01, dy * 0.01));
  }

  private up(event: PointerEvent): void {
    const still = this.drag !== null && this.drag.travelled < 4;
    this.drag = null;
    if (!still || !this.scene) return;
    const box = this.canvas.getBoundingClientRect();
    const vertex = this.scene.pick(event.clientX - box.left, event.clientY - box.top);
    const along = vertex < 0 ? Number.NaN : this.drawing.along[vertex];
    if (!Number.isNaN(along)) emit(this, 'foil-select', selectPlace(this.results, this.drawing.height[vertex], along));
  }

  private wheel(event: WheelEvent): void {
    event.preventDefault();
    this.to(zoomed(this.orbit, Math.exp(-event.deltaY * 0.0015)));
  }

  private key(event: KeyboardEvent): void {
    if (event.ctrlKey || event.metaKey || event.altKey) return;
    const pan = 20 * (this.scene?.mmPerPixel() ?? 1);
    const arrows: Record<string, [number, number]> = {
      ArrowLeft: [-1, 0],
      ArrowRight: [1, 0],
      ArrowUp: [0, 1],
      ArrowDown: [0, -1],
    };
    const arrow = arrows[event.key];
    const digit = Number(event.key);
    if (arrow && event.shiftKey) this.to(moved(this.orbit, arrow[0] * pan, arrow[1] * pan));
    else if (arrow) this.to(turned(this.orbit, arrow[0] * TURN, arrow[1] * TURN));
    else if (event.key === '+') this.to(zoomed(this.orbit, 1.25));
    else if (event.key === '-') this.to(zoomed(this.orbit, 0.8));
    else if (event.key === '0') this.to({ ...this.orbit, zoom: 1, panX: 0, panY: 0 });
    else if (digit >= 1 && digit <= 6) this.look(DIRECTIONS[digit - 1][0]);
    else return;
    event.preventDefault();
  }

  private lost(event: Event): void {
    event.preventDefault();
    this.status = 'lost';
    emit(this, 'foil-context-lost', null);
  }

  private restored(): void {
    this.status = 'drawn';
    this.fill();
    this.fitCanvas();
  }

  private buttons(): TemplateResult {
    return html`<div class="row buttons">
      <div class="directions" role="group" aria-label="Direction">
        ${DIRECTIONS.map(([id, word]) => html`<button @click=${() => this.look(id)}>${word}</button>`)}
      </div>
      <div class="group" role="group" aria-label="Zoom">
        <button aria-label="Zoom out" @click=${() => this.to(zoomed(this.orbit, 0.8))}>−</button>
        <button aria-label="Zoom in" @click=${() => this.to(zoomed(this.orbit, 1.25))}>+</button>
        <button @click=${() => this.to({ ...this.orbit, zoom: 1, panX: 0, panY: 0 })}>Fit</button>
      </div>
    </div>`;
  }

  override render(): TemplateResult {
    const { marker, status } = this;
    if (status === 'missing') {
      return html`<h2>3D</h2><p class="note small">This browser offers no 3D drawing (WebGL). Map, plots and table show everything.</p>`;
    }
    return html`<h2>3D</h2>
      <div class="stage">
        <canvas
          tabindex="0"
          role="application"
          aria-roledescription="3D view"
          aria-label="The part in parallel projection with the colours of the map. Arrow keys turn, Shift with arrows moves, plus and minus zoom, 1 to 6 are named directions."
          @pointerdown=${this.down}
          @pointermove=${this.move}
          @pointerup=${this.up}
          @wheel=${this.wheel}
          @keydown=${this.key}
          @contextmenu=${(e: Event) => e.preventDefault()}
          @webglcontextlost=${this.lost}
          @webglcontextrestored=${this.restored}
        ></canvas>
        ${
          marker
            ? html`<span class="marker ${marker.behind ? 'behind' : ''}" style="left:${marker.x}px;top:${marker.y}px">${marker.behind ? html`<span>behind</span>` : nothing}</span>`
            : nothing
        }
        ${status === 'lost' ? html`<p class="note small over">The browser took the 3D picture away; it comes back by itself. Map, plots and table go on.</p>` : nothing}
      </div>
      ${this.buttons()}`;
  }
}

declare global {
  interface HTMLElementTagNameMap {
    'foil-blade-view': FoilBladeView;
  }
}
