import { rotationOfQuaternion } from '../math/rigid.ts';

const PHI = Math.SQRT2;
/** Root of x⁴ = x + 4 above 1. */
const PSI = 1.5337511687552043;

/** Returns `count` rotations spread evenly over all orientations (super-Fibonacci spirals, Alexa 2022). */
export function uniformRotations(count: number): Float64Array[] {
  return Array.from({ length: count }, (_, i) => {
    const s = i + 0.5;
    const t = s / count;
    const [r, q] = [Math.sqrt(t), Math.sqrt(1 - t)];
    const [alpha, beta] = [(2 * Math.PI * s) / PHI, (2 * Math.PI * s) / PSI];
    return rotationOfQuaternion([r * Math.sin(alpha), r * Math.cos(alpha), q * Math.sin(beta), q * Math.cos(beta)]);
  });
}
