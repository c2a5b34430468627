import { INK, RAMP } from '../../src/report/colours.ts';

/** Programs of the part's surface: data colours unlit and stepped after interpolation, stripes for the sign, dots. */

const vec = (colour: string): string => {
  const n = Number.parseInt(colour.slice(1), 16);
  return `vec3(${[n >> 16, (n >> 8) & 255, n & 255].map((c) => (c / 255).toFixed(5)).join(', ')})`;
};

const COLOURS = RAMP.map((step) => vec(step.colour)).join(', ');
const STRIPES = RAMP.map((step) => vec(step.ink ?? step.colour)).join(', ');

export const vertexShader = `
attribute vec3 share;
attribute float tall;
varying vec3 vShare;
varying vec3 vNormal;
varying float vTall;
void main() {
  vShare = share;
  vTall = tall;
  vNormal = normalize(normalMatrix * normal);
  gl_Position = projectionMatrix * modelViewMatrix * vec4(position, 1.0);
}`;

export const fragmentShader = `
uniform vec3 page;
uniform vec3 line;
uniform float chosen;
uniform float ratio;
varying vec3 vShare;
varying vec3 vNormal;
varying float vTall;
const vec3 COLOURS[9] = vec3[9](${COLOURS});
const vec3 STRIPES[9] = vec3[9](${STRIPES});
int size(float share) { return share <= 0.0 ? 0 : share <= 0.25 ? 1 : share <= 0.5 ? 2 : share <= 1.0 ? 3 : 4; }
void main() {
  vec2 at = gl_FragCoord.xy / ratio;
  float facing = abs(normalize(vNormal).z);
  vec3 colour;
  if (vShare.z < 0.999) {
    vec2 cell = mod(at, 5.0) - 2.5;
    colour = dot(cell, cell) < 0.9 ? line : page;
  } else {
    int step = 4 + size(vShare.x) - size(vShare.y);
    colour = COLOURS[step];
    float across = step > 4 ? at.x - at.y : at.x + at.y;
    if (step != 4 && mod(across, 6.0) < 1.0) colour = STRIPES[step];
    colour *= 0.96 + 0.04 * facing;
  }
  if (facing < 0.13) colour = line;
  float thick = fwidth(vTall);
  if (abs(vTall - chosen) < 0.75 * thick) colour = ${vec(INK)};
  gl_FragColor = vec4(colour, 1.0);
}`;
