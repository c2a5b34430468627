import {
  BufferAttribute,
  BufferGeometry,
  Color,
  DoubleSide,
  LineBasicMaterial,
  LineSegments,
  Matrix4,
  Mesh,
  OrthographicCamera,
  Raycaster,
  Scene,
  ShaderMaterial,
  Vector2,
  Vector3,
  WebGLRenderer,
} from 'three';
import type { Drawing } from '../../src/pipeline.ts';
import { borderOf } from './open-borders.ts';
import { axesOf, type Orbit } from './orbit.ts';
import { fragmentShader, outlineFragmentShader, outlineVertexShader, vertexShader } from './shaders.ts';

/** Where a point of the part is in the picture (px), and whether its surface faces away from the eye. */
export interface Projected {
  x: number;
  y: number;
  behind: boolean;
}

/** The picture of one part. Draws only when something changed. */
export interface BladeScene {
  setDrawing(drawing: Drawing): void;
  setShares(shares: Float32Array): void;
  /** Height marked on the surface (mm); null for none. */
  setChosen(height: number | null): void;
  setColours(page: string, line: string, ink: string): void;
  setOrbit(orbit: Orbit): void;
  resize(width: number, height: number, pixelRatio: number): void;
  /** Vertex nearest to the surface point under a picture place; −1 beside the part. */
  pick(x: number, y: number): number;
  /** Place of a vertex in the picture of the last view asked for. */
  project(vertex: number): Projected | null;
  /** Length of one picture pixel on the part (mm). */
  mmPerPixel(): number;
  /** Frames drawn so far. */
  frames(): number;
  dispose(): void;
}

/** Highest pixel ratio drawn; more costs time without showing more. */
const RATIO_CAP = 2;
const MARGIN = 1.08;
/** Width of the line round the part (px). */
const OUTLINE = 1.4;

/**
 * Returns a scene on a canvas: parallel projection, data colours unlit, a thin line round the part.
 * @param onDrawn called after each frame, to move what lies over the picture
 * @throws when the browser gives no WebGL context
 */
export function createScene(canvas: HTMLCanvasElement, onDrawn: () => void): BladeScene {
  const renderer = new WebGLRenderer({ canvas, antialias: true, alpha: true });
  const scene = new Scene();
  const camera = new OrthographicCamera();
  const material = new ShaderMaterial({
    vertexShader,
    fragmentShader,
    side: DoubleSide,
    uniforms: {
      page: { value: new Color() },
      line: { value: new Color() },
      chosen: { value: Number.NEGATIVE_INFINITY },
      ratio: { value: 1 },
    },
  });
  const outlineMaterial = new ShaderMaterial({
    vertexShader: outlineVertexShader,
    fragmentShader: outlineFragmentShader,
    side: DoubleSide,
    uniforms: {
      ink: { value: new Color() },
      reach: { value: OUTLINE },
      room: { value: new Vector2(1, 1) },
    },
  });
  const borderMaterial = new LineBasicMaterial();
  let mesh = new Mesh(new BufferGeometry(), material);
  let outline = new Mesh(mesh.geometry, outlineMaterial);
  let border = new LineSegments(new BufferGeometry(), borderMaterial);
  let drawing: Drawing | null = null;
  let orbit: Orbit = { yaw: 0, pitch: 0, zoom: 1, panX: 0, panY: 0 };
  let size = { width: 1, height: 1 };
  const centre = new Vector3();
  let radius = 1;
  let frames = 0;
  let asked = 0;

  function ask(): void {
    if (asked === 0) asked = requestAnimationFrame(draw);
  }

  function place(): void {
    const { right, up, back } = axesOf(orbit);
    const basis = new Matrix4().makeBasis(new Vector3(...right), new Vector3(...up), new Vector3(...back));
    camera.quaternion.setFromRotationMatrix(basis);
    camera.position
      .copy(centre)
      .addScaledVector(new Vector3(...back), 4 * radius)
      .addScaledVector(new Vector3(...right), orbit.panX)
      .addScaledVector(new Vector3(...up), orbit.panY);
    const half = (MARGIN * radius) / orbit.zoom;
    const aspect = size.width / size.height;
    const [halfX, halfY] = aspect > 1 ? [half * aspect, half] : [half, half / aspect];
    [camera.left, camera.right, camera.top, camera.bottom] = [-halfX, halfX, halfY, -halfY];
    [camera.near, camera.far] = [0.1 * radius, 8 * radius];
    camera.updateProjectionMatrix();
    camera.updateMatrixWorld();
  }

  function draw(): void {
    asked = 0;
    place();
    renderer.render(scene, camera);
    frames++;
    onDrawn();
  }

  const vertex = (i: number): Vector3 => new Vector3().fromArray(drawing!.positions, 3 * i);

  return {
    setDrawing(next) {
      drawing = next;
      scene.remove(mesh, outline, border);
      mesh.geometry.dispose();
      border.geometry.dispose();
      const geometry = new BufferGeometry();
      geometry.setAttribute('position', new BufferAttribute(next.positions, 3));
      geometry.setAttribute('normal', new BufferAttribute(next.normals, 3));
      geometry.setAttribute('tall', new BufferAttribute(next.height, 1));
      geometry.setAttribute('share', new BufferAttribute(new Float32Array(next.positions.length), 3));
      geometry.setIndex(new BufferAttribute(next.triangles, 1));
      geometry.computeBoundingSphere();
      geometry.computeBoundingBox();
      geometry.boundingBox!.getCenter(centre);
      radius = geometry.boundingSphere!.radius || 1;
      mesh = new Mesh(geometry, material);
      outline = new Mesh(geometry, outlineMaterial);
      const borderGeometry = new BufferGeometry();
      borderGeometry.setAttribute('position', geometry.getAttribute('position'));
      borderGeometry.setIndex(new BufferAttribute(borderOf(next.triangles), 1));
      border = new LineSegments(borderGeometry, borderMaterial);
      scene.add(outline, mesh, border);
      ask();
    },
    setShares(shares) {
      mesh.geometry.setAttribute('share', new BufferAttribute(shares, 3));
      ask();
    },
    setChosen(height) {
      material.uniforms.chosen.value = height ?? Number.NEGATIVE_INFINITY;
      ask();
    },
    setColours(page, line, ink) {
      material.uniforms.page.value.setStyle(page, 'srgb-linear');
      material.uniforms.line.value.setStyle(line, 'srgb-linear');
      outlineMaterial.uniforms.ink.value.setStyle(ink, 'srgb-linear');
      borderMaterial.color.setStyle(ink, 'srgb-linear');
      ask();
    },
    setOrbit(next) {
      orbit = next;
      ask();
    },
    resize(width, height, pixelRatio) {
      size = { width: Math.max(1, width), height: Math.max(1, height) };
      const ratio = Math.min(RATIO_CAP, pixelRatio);
      renderer.setPixelRatio(ratio);
      renderer.setSize(size.width, size.height, false);
      material.uniforms.ratio.value = ratio;
      outlineMaterial.uniforms.room.value.set(size.width, size.height);
      ask();
    },
    pick(x, y) {
      if (!drawing) return -1;
      place();
      const ray = new Raycaster();
      ray.setFromCamera(new Vector2((2 * x) / size.width - 1, 1 - (2 * y) / size.height), camera);
      const [hit] = ray.intersectObject(mesh);
      if (!hit?.face) return -1;
      const corners = [hit.face.a, hit.face.b, hit.face.c];
      const far = corners.map((i) => vertex(i).distanceTo(hit.point));
      return corners[far.indexOf(Math.min(...far))];
    },
    project(i) {
      if (!drawing || i < 0) return null;
      const at = vertex(i).project(camera);
      const { back } = axesOf(orbit);
      const normal = new Vector3().fromArray(drawing.normals, 3 * i);
      return {
        x: ((at.x + 1) / 2) * size.width,
        y: ((1 - at.y) / 2) * size.height,
        behind: normal.dot(new Vector3(...back)) < -0.05,
      };
    },
    mmPerPixel: () => (camera.right - camera.left) / size.width,
    frames: () => frames,
    dispose() {
      cancelAnimationFrame(asked);
      mesh.geometry.dispose();
      border.geometry.dispose();
      material.dispose();
      outlineMaterial.dispose();
      borderMaterial.dispose();
      renderer.dispose();
    },
  };
}
