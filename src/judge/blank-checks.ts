import { CamberwrightError } from '../error.ts';
import type { Plan } from '../model/plan.ts';

/** Least length of a normal that has a direction. */
const LEAST_NORMAL = 1e-6;

/**
 * Checks what a schema cannot say of the parts of a plan that speak of blanks: stock wanted, allowed motions, datum
 * targets, adaptation.
 * @throws plan/value with the path
 */
export function checkBlankParts(plan: Plan, name: string): void {
  const refuse = (path: string, message: string, remedy: string): never => {
    throw new CamberwrightError('plan/value', `${path}: ${message}`, { where: `${name}, ${path}`, remedy });
  };
  const notNegative = (value: number | undefined, path: string) => {
    if (value !== undefined && value < 0) refuse(path, `found ${value}, which is below 0.`, 'Give 0 or more.');
  };
  const positive = (value: number | undefined, path: string) => {
    if (value !== undefined && !(value > 0))
      refuse(path, `wanted more than 0, found ${value}.`, 'Give a positive number.');
  };
  const rising = (pair: readonly [number, number] | undefined, path: string) => {
    if (pair && !(pair[0] <= pair[1]))
      refuse(path, `${pair[0]} is not below ${pair[1]}.`, 'Give the lower value first.');
  };
  const { stock, adapt } = plan;
  if (stock) {
    for (const key of ['affectedLayer', 'minimumChip', 'locating', 'factor'] as const)
      notNegative(stock[key], `stock.${key}`);
    notNegative(stock.asForged?.waviness, 'stock.asForged.waviness');
    notNegative(stock.asForged?.slope, 'stock.asForged.slope');
    const least = (stock.affectedLayer ?? 0) + (stock.minimumChip ?? 0) + (stock.locating ?? 0);
    const above = (least: number, most: number | undefined, path: string) => {
      if (most !== undefined && !(most > least))
        refuse(path, `${most} mm is not above the least wanted, ${least} mm.`, 'Give more, or leave it out.');
    };
    above(least, stock.most, 'stock.most');
    for (const [axis, pair] of Object.entries(stock.ranges ?? {})) rising(pair, `stock.ranges.${axis}`);
    stock.zones?.forEach((zone, i) => {
      const path = `stock.zones[${i}]`;
      notNegative(zone.least, `${path}.least`);
      positive(zone.weight, `${path}.weight`);
      above(zone.least ?? least, zone.most, `${path}.most`);
      if (zone.from !== undefined && zone.to !== undefined && !(zone.from < zone.to))
        refuse(`${path}.from`, `${zone.from} is not below ${zone.to}.`, 'Give the lower height as "from".');
      if (stock.zones!.slice(0, i).some((other) => other.name === zone.name))
        refuse(`${path}.name`, `two zones are named "${zone.name}".`, 'Give every zone its own name.');
    });
  }
  plan.datumTargets?.forEach((target, i) => {
    const path = `datumTargets[${i}]`;
    if (!(Math.hypot(...target.normal) > LEAST_NORMAL))
      refuse(`${path}.normal`, 'the normal has no direction.', 'Give the outward normal of the part there.');
    positive(target.ball, `${path}.ball`);
    notNegative(target.u, `${path}.u`);
    if (plan.datumTargets!.slice(0, i).some((other) => other.id === target.id))
      refuse(`${path}.id`, `two targets are named "${target.id}".`, 'Give every target its own name.');
  });
  positive(adapt?.ratio, 'adapt.ratio');
  positive(adapt?.blend, 'adapt.blend');
  positive(adapt?.slope, 'adapt.slope');
  rising(adapt?.setback, 'adapt.setback');
  positive(adapt?.setback?.[0], 'adapt.setback');
}
