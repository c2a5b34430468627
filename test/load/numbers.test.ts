import fc from 'fast-check';
import { expect, test } from 'vitest';
import { isNonFiniteText, parseNumber } from '../../src/load/numbers.ts';
import { bytesOf } from './read.ts';

function parse(text: string, decimal = '.'): number {
  const bytes = bytesOf(`<${text}>`);
  return parseNumber(bytes, 1, bytes.length - 1, decimal.charCodeAt(0));
}

test('every double comes back bit for bit from its shortest text', () => {
  fc.assert(
    fc.property(fc.double({ noNaN: true, noDefaultInfinity: true }), (value) =>
      Object.is(parse(Object.is(value, -0) ? '-0' : String(value)), value),
    ),
    { numRuns: 3000, seed: 7 },
  );
});

test('decimals of 1 to 20 digits are read as Number() reads them', () => {
  const digits = fc.stringMatching(/^[0-9]{1,20}$/);
  fc.assert(
    fc.property(digits, digits, fc.integer({ min: -330, max: 310 }), (whole, part, power) => {
      const text = `-${whole}.${part}e${power}`;
      return Object.is(parse(text), Number(text)) && Object.is(parse(text.replace('.', ','), ','), Number(text));
    }),
    { numRuns: 3000, seed: 8 },
  );
});

test.each([
  '9007199254740993',
  '9007199254740992.5',
  '0.30000000000000004',
  '1e23',
  '8.98846567431158e307',
  '4.9e-324',
])('hard case %s', (text) => expect(parse(text)).toBe(Number(text)));

test.each(['1', '+1', '-0', '.5', '5.', '1E+3', '1e-3', '007'])('%s is a number', (text) => {
  expect(Object.is(parse(text), Number(text))).toBe(true);
});

test.each(['', '-', '.', 'e5', '1e', '1e+', '1.2.3', '1,2', '0x10', '1 2', 'nan', '--1', '1e5.5'])(
  '"%s" is none',
  (text) => {
    expect(parse(text)).toBeNaN();
  },
);

test('ways to write not finite', () => {
  for (const text of ['NaN', '-nan(ind)', 'inf', '+Infinity', '1.#QNAN', '-1.#IND00']) {
    expect(isNonFiniteText(bytesOf(text), 0, text.length)).toBe(true);
  }
  expect(isNonFiniteText(bytesOf('info'), 0, 4)).toBe(false);
});
