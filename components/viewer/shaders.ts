import { INK, RAMP } from '../../src/report/colours.ts';

/** Programs of the part's surface: data colours unlit and stepped after interpolation, stripes for the sign, dots. */

const vec = (colour: string): string => {
  const n = Number.parseInt(colour.slice(1), 16);
  return `vec3(${[n >> 16, (n >> 8) & 255, n & 255].map((c) => (c / 255).toFixed(5)).join(', ')})`;
};

/** Form shading moves the lightness of a data colour by at most this much (CIE L*), so that steps never swap. */
const SHADING = 4;

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

/** The outline: the whole part drawn once more behind itself, grown by `reach` pixels. */
export const outlineVertexShader = `
uniform vec2 room;
uniform float reach;
void main() {
  vec4 at = projectionMatrix * modelViewMatrix * vec4(position, 1.0);
  vec2 way = (normalMatrix * normal).xy;
  float length = length(way);
  if (length > 1e-4) at.xy += 2.0 * reach * at.w * way / length / room;
  at.z += 0.02 * at.w;
  gl_Position = at;
}`;

export const outlineFragmentShader = `
uniform vec3 ink;
void main() { gl_FragColor = vec4(ink, 1.0); }`;

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
vec3 linear(vec3 c) { return mix(c / 12.92, pow((c + 0.055) / 1.055, vec3(2.4)), step(0.04045, c)); }
vec3 encoded(vec3 c) { return mix(12.92 * c, 1.055 * pow(c, vec3(1.0 / 2.4)) - 0.055, step(0.0031308, c)); }
float luminance(float lightness) { return lightness > 8.0 ? pow((lightness + 16.0) / 116.0, 3.0) : lightness / 903.3; }
/** The colour with its CIE lightness moved. */
vec3 lighter(vec3 colour, float by) {
  vec3 c = linear(colour);
  float y = dot(c, vec3(0.2126, 0.7152, 0.0722));
  float now = y > 0.008856 ? 116.0 * pow(y, 1.0 / 3.0) - 16.0 : 903.3 * y;
  return encoded(clamp(c * luminance(clamp(now + by, 0.0, 100.0)) / max(y, 1e-4), 0.0, 1.0));
}
int size(float share) { return share <= 0.0 ? 0 : share <= 0.25 ? 1 : share <= 0.5 ? 2 : share <= 1.0 ? 3 : 4; }
void main() {
  vec2 at = gl_FragCoord.xy / ratio;
  vec3 normal = normalize(vNormal);
  if (normal.z < 0.0) normal = -normal;
  float facing = normal.z;
  float form = clamp(1.5 * dot(normal.xy, vec2(-0.83, 0.56)), -1.0, 1.0);
  vec3 colour;
  if (vShare.z < 0.999) {
    vec2 cell = mod(at, 5.0) - 2.5;
    colour = dot(cell, cell) < 1.3 ? line : page;
  } else {
    int step = 4 + size(vShare.x) - size(vShare.y);
    colour = COLOURS[step];
    float across = step > 4 ? at.x - at.y : at.x + at.y;
    if (step != 4 && mod(across, 6.0) < 1.0) colour = STRIPES[step];
    colour = lighter(colour, ${SHADING.toFixed(1)} * form);
  }
  float thick = fwidth(vTall);
  if (abs(vTall - chosen) < 0.75 * thick) colour = ${vec(INK)};
  gl_FragColor = vec4(colour, 1.0);
}`;
