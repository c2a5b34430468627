import { type ThroatOptions, throat } from '../throat.ts';
import type { Definition } from './definition.ts';

/** Opening to a virtual neighbour. */
export const throatDefinitions: readonly Definition[] = [
  {
    id: 'THROAT',
    quantity: 'throat',
    name: 'Opening to a virtual neighbour',
    meaning:
      'Smallest distance from an edge of this blade to the suction side of the next one, displaced along Y by the pitch. Virtual: assumes a perfect neighbour.',
    unit: 'mm',
    parameters: [
      { name: 'pitch', label: 'Pitch (0: from blades and radius)', unit: 'mm', default: 0, least: 0, most: 100000 },
      { name: 'blades', label: 'Number of blades', unit: '1', default: 0, least: 0, most: 1000 },
      { name: 'radius', label: 'Radius of the section', unit: 'mm', default: 0, least: 0, most: 100000 },
      {
        name: 'neighbour',
        label: 'Neighbour',
        choices: ['pressure-side', '+Y', '-Y'],
        default: 'pressure-side',
      },
    ],
    measure: ({ context }, { pitch, blades, radius, neighbour }) =>
      throat(context, {
        pitch: Number(pitch),
        blades: Number(blades),
        radius: Number(radius),
        neighbour: neighbour as ThroatOptions['neighbour'],
      }),
  },
];
