import type { BsplineSet } from '../model/bspline.ts';
import { addStepCurve, addStepSurface, STEP_UNCERTAINTY } from './step-shapes.ts';
import { stepList, stepReal, stepString } from './step-text.ts';

export interface CadFileOptions {
  /** Name of the part and of the file. */
  name: string;
  /** Date and time of writing, ISO 8601, such as `2026-03-01T12:00:00`. */
  timestamp: string;
}

/** Characters a line is kept below where a comma allows. */
const LINE = 120;

/**
 * Returns surfaces and curves as a STEP file (ISO 10303-21 text, schema of ISO 10303-242): a geometrically bounded
 * surface shape of one part, in mm, numbers in the shortest form that reads back equal.
 */
export function stepText(set: BsplineSet, options: CadFileOptions): string {
  const lines: string[] = [];
  let last = 0;
  const add = (entity: string): string => {
    const ref = `#${++last}`;
    lines.push(...folded(`${ref}=${entity};`));
    return ref;
  };
  const name = stepString(options.name);
  const application = add("APPLICATION_CONTEXT('managed model based 3d engineering')");
  add(
    "APPLICATION_PROTOCOL_DEFINITION('international standard'," +
      `'ap242_managed_model_based_3d_engineering',2014,${application})`,
  );
  const productContext = add(`PRODUCT_CONTEXT('',${application},'mechanical')`);
  const product = add(`PRODUCT(${name},${name},'',(${productContext}))`);
  add(`PRODUCT_RELATED_PRODUCT_CATEGORY('part','',(${product}))`);
  const formation = add(`PRODUCT_DEFINITION_FORMATION('','',${product})`);
  const design = add(`PRODUCT_DEFINITION_CONTEXT('part definition',${application},'design')`);
  const definition = add(`PRODUCT_DEFINITION('design','',${formation},${design})`);
  const shape = add(`PRODUCT_DEFINITION_SHAPE('','',${definition})`);
  const length = add('(LENGTH_UNIT()NAMED_UNIT(*)SI_UNIT(.MILLI.,.METRE.))');
  const angle = add('(NAMED_UNIT(*)PLANE_ANGLE_UNIT()SI_UNIT($,.RADIAN.))');
  const solid = add('(NAMED_UNIT(*)SI_UNIT($,.STERADIAN.)SOLID_ANGLE_UNIT())');
  const uncertainty = add(
    `UNCERTAINTY_MEASURE_WITH_UNIT(LENGTH_MEASURE(${stepReal(STEP_UNCERTAINTY)}),${length},'distance_accuracy_value','')`,
  );
  const context = add(
    `(GEOMETRIC_REPRESENTATION_CONTEXT(3)GLOBAL_UNCERTAINTY_ASSIGNED_CONTEXT((${uncertainty}))` +
      `GLOBAL_UNIT_ASSIGNED_CONTEXT((${length},${angle},${solid}))REPRESENTATION_CONTEXT('',''))`,
  );
  const origin = add("CARTESIAN_POINT('',(0.,0.,0.))");
  const axis = add("DIRECTION('',(0.,0.,1.))");
  const across = add("DIRECTION('',(1.,0.,0.))");
  const placement = add(`AXIS2_PLACEMENT_3D('',${origin},${axis},${across})`);
  const items = [
    ...set.surfaces.map((each) => addStepSurface(add, each.name, each.surface)),
    ...set.curves.map((each) => addStepCurve(add, each.name, each.curve)),
  ];
  const geometry = add(`GEOMETRIC_SET(${name},${stepList(items)})`);
  const representation = add(
    `GEOMETRICALLY_BOUNDED_SURFACE_SHAPE_REPRESENTATION(${name},(${placement},${geometry}),${context})`,
  );
  add(`SHAPE_DEFINITION_REPRESENTATION(${shape},${representation})`);
  return [
    'ISO-10303-21;',
    'HEADER;',
    "FILE_DESCRIPTION(('aerofoil surface and sections'),'2;1');",
    `FILE_NAME(${name},${stepString(options.timestamp)},(''),(''),'Camberwright','Camberwright','');`,
    "FILE_SCHEMA(('AP242_MANAGED_MODEL_BASED_3D_ENGINEERING_MIM_LF { 1 0 10303 442 1 1 4 }'));",
    'ENDSEC;',
    'DATA;',
    ...lines,
    'ENDSEC;',
    'END-ISO-10303-21;\n',
  ].join('\n');
}

/** Cuts an entity into lines after commas between numbers and references; text in quotes stays whole. */
function folded(entity: string): string[] {
  const lines: string[] = [];
  let from = 0;
  let comma = -1;
  let quoted = false;
  for (let i = 0; i < entity.length; i++) {
    if (entity[i] === "'") quoted = !quoted;
    if (i - from >= LINE && comma > from) {
      lines.push(entity.slice(from, comma + 1));
      from = comma + 1;
    }
    if (entity[i] === ',' && !quoted) comma = i;
  }
  lines.push(entity.slice(from));
  return lines;
}
