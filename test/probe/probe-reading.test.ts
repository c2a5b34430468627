import { expect, test } from 'vitest';
import type { Plan } from '../../src/model/plan.ts';
import type { ProbeStatement } from '../../src/model/shape.ts';
import { offsetWarning } from '../../src/probe/constant-offset.ts';
import { probeReading } from '../../src/probe/probe-reading.ts';
import { effectiveSettings } from '../../src/settings.ts';

const read = (setting: ProbeStatement | null, stated?: ProbeStatement) => probeReading(setting, stated, 'file.csv');

test('the setting stands over the file, field by field', () => {
  expect(read(null).reading).toBeNull();
  expect(read(null, { points: 'centres', tipRadius: 1 }).reading).toEqual({ points: 'centres', tipRadius: 1 });
  expect(read({ tipRadius: 2 }, { points: 'centres' }).reading).toEqual({ points: 'centres', tipRadius: 2 });
  expect(read({ points: 'compensated' }).reading).toEqual({ points: 'compensated', tipRadius: null });
});

test('a setting that says otherwise than the file is taken with a warning', () => {
  const { reading, warnings } = read({ points: 'compensated', tipRadius: 2 }, { points: 'centres', tipRadius: 1 });
  expect(reading).toEqual({ points: 'compensated', tipRadius: 2 });
  expect(warnings.map(({ code }) => code)).toEqual(['probe/statement-differs', 'probe/statement-differs']);
  expect(read({ tipRadius: 1 }, { tipRadius: 1 + 1e-12 }).warnings.map(({ code }) => code)).toEqual([
    'probe/points-assumed',
  ]);
});

test.each([[{ points: 'centres' }], [{ tipRadius: 0 }], [{ tipRadius: -1 }], [{ tipRadius: 40 }]] as const)(
  '%j is refused',
  (setting) => {
    expect(() => read(setting)).toThrowError(expect.objectContaining({ code: 'probe/tip-radius', exitCode: 3 }));
  },
);

test('the plan says it, the caller says otherwise', () => {
  const plan: Plan = {
    schema: 'camberwright/plan',
    schemaVersion: 1,
    probe: { points: 'centres', tipRadius: 1 },
  };
  expect(effectiveSettings(undefined, plan).probe).toEqual({ points: 'centres', tipRadius: 1 });
  expect(effectiveSettings({ probe: { tipRadius: 2 } }, plan).probe).toEqual({ points: 'centres', tipRadius: 2 });
  expect(effectiveSettings(undefined, null).probe).toBeNull();
});

test('only an even offset of about the tip radius is a wrong compensation', () => {
  const even = (offset: number, spread: number): Float64Array =>
    Float64Array.from({ length: 201 }, (_, i) => offset + spread * (i / 100 - 1));
  const warn = (offset: number, spread: number): string | undefined =>
    offsetWarning(even(offset, spread), { points: 'compensated', tipRadius: 1 }, 'f')?.code;
  expect(warn(0.97, 0.05)).toBe('probe/not-compensated');
  expect(warn(-1.05, 0.05)).toBe('probe/compensated-twice');
  expect(warn(0.97, 0.5)).toBeUndefined();
  expect(warn(0.8, 0.05)).toBeUndefined();
  expect(warn(0, 0.05)).toBeUndefined();
  expect(offsetWarning(even(1, 0), { points: 'compensated', tipRadius: null }, 'f')).toBeNull();
});
