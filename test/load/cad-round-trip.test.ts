import { describe, expect, test } from 'vitest';
import type { CadContent } from '../../src/load/cad-content.ts';
import type { FormatInput } from '../../src/load/format.ts';
import { igesContent } from '../../src/load/iges-bspline.ts';
import { parseIges } from '../../src/load/iges-parse.ts';
import { stepContent } from '../../src/load/step-bspline.ts';
import { parseStep } from '../../src/load/step-parse.ts';
import type { BsplineSet } from '../../src/model/bspline.ts';
import { igesText } from '../../src/report/iges-write.ts';
import { stepText } from '../../src/report/step-write.ts';
import { awkwardPatch, ellipseCurve, ellipticTaper, OPTIONS, taperSet } from './cad-parts.ts';

const input: FormatInput = {
  name: 'file',
  size: null,
  head: new Uint8Array(),
  complete: true,
  options: {},
  warnings: [],
};

function readStep(text: string): CadContent {
  return stepContent(parseStep(input, text));
}

function readIges(text: string): CadContent {
  return igesContent(parseIges(input, text));
}

const set: BsplineSet = {
  surfaces: [
    { name: 'taper', surface: ellipticTaper() },
    { name: 'patch', surface: awkwardPatch() },
  ],
  curves: [
    { name: 'A', curve: ellipseCurve(20, 4, 0) },
    {
      name: 'B',
      curve: { degree: 1, knots: Float64Array.of(0, 0, 1, 1), poles: Float64Array.of(0, -0.5, 1e-7, 2 / 3, 0, 1) },
    },
  ],
};

describe('STEP', () => {
  const text = stepText(set, OPTIONS);

  test('what is written reads back without any difference', () => {
    const content = readStep(text);
    expect(content.set).toEqual(set);
    expect(content.millimetres).toBe(1);
    expect(content.others.size + content.bound.length).toBe(0);
  });

  test('the file is plain text in its schema and says who wrote it and when', () => {
    expect(text).toMatch(/^ISO-10303-21;\nHEADER;\n/);
    expect(text).toContain('AP242_MANAGED_MODEL_BASED_3D_ENGINEERING_MIM_LF');
    expect(text).toContain("'2026-03-01T12:00:00',(''),(''),'Camberwright','Camberwright',''");
    expect(text).toContain("'O''Part \\\\ \\X2\\03A9\\X0\\'");
    expect(text).toMatch(/^[\x20-\x7e\n]*$/);
    expect(Math.max(...text.split('\n').map((line) => line.length))).toBeLessThanOrEqual(130);
    // Reals have a point; every reference has its entity.
    expect(text).not.toMatch(/[(,]-?\d+E/);
    const refs = [...text.matchAll(/#(\d+)(?!\d*=)/g)].map((found) => found[1]);
    expect(refs.filter((ref) => !text.includes(`#${ref}=`))).toEqual([]);
  });

  test('comments, blanks, other lines ends and other sections change nothing', () => {
    const odd = text
      .replace('DATA;', "ANCHOR;\nx;y=#1;\nENDSEC;\nDATA ('a;b');")
      .replaceAll(',', ' ,\r\n /* #9=X(; */ ')
      .replace('HEADER;', "HEADER; /* ' */");
    expect(readStep(odd).set.surfaces[1].surface).toEqual(set.surfaces[1].surface);
  });

  test.each([
    ['SI_UNIT($,.METRE.)', 1000],
    ['SI_UNIT(.CENTI.,.METRE.)', 10],
    ['SI_UNIT(.MICRO.,.METRE.)', 1e-3],
    ["CONVERSION_BASED_UNIT('INCH',#900)", 25.4],
    ["CONVERSION_BASED_UNIT('FOOT',#910)", 304.8],
  ])('the unit %s is %d mm', (unit, millimetres) => {
    const more = [
      '#900=LENGTH_MEASURE_WITH_UNIT(LENGTH_MEASURE(25.4),#901);',
      '#901=(LENGTH_UNIT()NAMED_UNIT(*)SI_UNIT(.MILLI.,.METRE.));',
      '#910=LENGTH_MEASURE_WITH_UNIT(LENGTH_MEASURE(0.3048),#911);',
      '#911=(LENGTH_UNIT()NAMED_UNIT(*)SI_UNIT($,.METRE.));',
    ].join('\n');
    const changed = text.replace('SI_UNIT(.MILLI.,.METRE.)', unit).replace('DATA;\n', `DATA;\n${more}\n`);
    expect(readStep(changed).millimetres).toBeCloseTo(millimetres, 12);
  });

  const line = (pattern: RegExp): string => pattern.exec(text)![0];
  test.each([
    ['load/step-reference', text.replace(line(/#19=CARTESIAN_POINT.*\n/), ''), /#19/],
    ['load/not-a-number', text.replace("CARTESIAN_POINT('',(20.,", "CARTESIAN_POINT('',(NaN,"), /NaN/],
    ['load/not-a-number', text.replace("CARTESIAN_POINT('',(20.,", "CARTESIAN_POINT('',(1.E999,"), /1\.E999/],
    ['load/step-syntax', text.replace('#12=', '#11='), /#11 is given twice/],
    ['load/step-syntax', text.replace("CARTESIAN_POINT('',(20.,", "CARTESIAN_POINT('',(20. 3,"), /"3/],
    ['load/step-syntax', text.replace('(20.,4.,0.)', '('.repeat(9000)), /./],
    ['load/step-entity', text.replace('(3,2,2,2,3),(2,2)', '(3,2,2,2),(2,2)'), /list of knots/],
    ['load/step-entity', text.replace('(3,2,2,2,3),(2,2)', '(3,2,2,2,900000000),(2,2)'), /list of knots/],
    ['load/cad-bspline', text.replace('(3,2,2,2,3),(2,2)', '(2,2,2,2,3),(2,2)'), /11 knots; 12/],
    ['load/cad-bspline', text.replace('(0.,1.,2.,3.,4.)', '(0.,2.,1.,3.,4.)'), /below the one before/],
    ['load/cad-bspline', text.replace('((1.,1.)', '((1.,-1.)'), /weight is -1/],
  ])('%s says where (%#)', (code, damaged, message) => {
    expect(damaged).not.toBe(text);
    let caught: unknown = null;
    try {
      const content = readStep(damaged);
      for (const { surface } of content.set.surfaces) expect(surface.poles.length).toBeGreaterThan(0);
    } catch (error) {
      caught = error;
    }
    expect(caught).toMatchObject({
      code,
      message: expect.stringMatching(message),
      where: expect.stringMatching(/line|#/),
    });
  });

  test('cut short anywhere it is refused', () => {
    for (let size = text.length - 2; size > 40; size -= 61) {
      expect(() => readStep(text.slice(0, size))).toThrow(expect.objectContaining({ code: 'load/truncated' }));
    }
  });
});

describe('IGES', () => {
  const text = igesText(set, OPTIONS);
  const lines = text.split('\n');

  test('what is written reads back without any difference', () => {
    const content = readIges(text);
    expect(content.set).toEqual(set);
    expect(content.millimetres).toBe(1);
  });

  test('every record has 80 columns, its letter and its number', () => {
    expect(lines.pop()).toBe('');
    const next: Record<string, number> = { S: 1, G: 1, D: 1, P: 1, T: 1 };
    for (const record of lines) {
      expect(record.length).toBe(80);
      expect(Number(record.slice(73))).toBe(next[record[72]]++);
    }
    expect(lines[lines.length - 1]).toMatch(/^S {6}1G {6}\dD {6}8P {5}\d\d {40}T {6}1$/);
    expect(text).toContain('1H,,1H;,');
    expect(text).toContain('2,2HMM,');
    expect(text).toContain('15H20260301.120000,');
  });

  test('inch is written and read as inch, once rounded', () => {
    const inch = readIges(igesText(taperSet(), { ...OPTIONS, unit: 'inch' }));
    expect(inch.millimetres).toBe(25.4);
    expect(Array.from(inch.set.surfaces[0].surface.poles, (value) => value * 25.4)).toEqual(
      Array.from(ellipticTaper().poles, (value) => expect.closeTo(value, 13)),
    );
  });

  test.each([
    ['4,2HFT,', 304.8],
    ['3,2HCM,', 10],
    ['10,1HX,', 10],
  ])('the unit %s is %d mm', (unit, millimetres) => {
    expect(readIges(text.replace('2,2HMM,', unit)).millimetres).toBe(millimetres);
    expect(() => readIges(text.replace('2,2HMM,', '3,2HXY,'))).toThrow(
      expect.objectContaining({ code: 'load/unit-unknown' }),
    );
  });

  test.each([
    ['load/not-a-number', '20.D0,', '20.Dx,', /"20\.Dx"/],
    ['load/not-a-number', '20.D0,', '  NaN,', /"NaN"/],
    ['load/iges-entity', '128,8,1,', '128,9,1,', /./],
    ['load/iges-entity', '128,8,1,2,1,', '128,8,1,9,1,', /./],
    ['load/iges-reference', '     128       1', '     128      99', /lines 99/],
    ['load/iges-reference', '     128       1', '     128       2', /belong/],
  ])('%s for %s', (code, good, bad, message) => {
    const damaged = text.replace(good, bad);
    expect(damaged).not.toBe(text);
    expect(() => readIges(damaged)).toThrow(
      expect.objectContaining({ code, message: expect.stringMatching(message), where: expect.stringMatching(/entry/) }),
    );
  });

  test('cut short anywhere it is refused; a line taken out too', () => {
    for (let size = text.length - 2; size > 90; size -= 61) {
      expect(() => readIges(text.slice(0, size))).toThrow(expect.objectContaining({ code: 'load/truncated' }));
    }
    for (let k = 0; k < lines.length - 2; k += 3) {
      const damaged = lines.filter((_, i) => i !== k).join('\n');
      expect(() => readIges(damaged)).toThrow(
        expect.objectContaining({ code: expect.stringMatching(/^load.(iges-record|truncated)$/) }),
      );
    }
  });
});
