import type { Units } from '../features/units.ts';
import { fromUs, typedUnit } from './rate-units.ts';
import type { Rate, RateRow, RateUnit } from './types.ts';

const OURS = 'our assumption';
const QUOTE = 'our assumption; ask for a quote';
const PRACTICE = 'common practice, no source';

/** The numbers a work list rests on, as typed in US units. Every one can be changed for a property. */
const TABLE: [key: string, label: string, typed: number, unit: RateUnit, source: string][] = [
  ['saw.pay', 'Saw crew, a person', 45, '$/h', QUOTE],
  ['saw.people', 'Saw crew, people', 2, 'people', 'nobody fells alone; common practice, no source'],
  ['hand.pay', 'Hand crew, a person', 25, '$/h', QUOTE],
  ['hand.people', 'Hand crew, people', 2, 'people', OURS],
  ['machine.pay', 'Machine with its operator', 110, '$/h', QUOTE],
  ['machine.move', 'Bringing a machine in and out', 350, '$', QUOTE],
  ['machine.least', 'Least time a machine is hired for', 4, 'h', PRACTICE],

  ['barricade.cover', 'Line one felled top covers', 12, 'ft', OURS],
  ['barricade.top', 'Height one laid top stands', 4, 'ft', OURS],
  ['barricade.height', 'Height of a barricade where none is given', 5, 'ft', OURS],
  ['barricade.spare', 'Trees that fall wrong or hang', 10, '%', OURS],
  ['barricade.hours', 'Felling and dragging one tree into the line, a person', 0.6, 'h', OURS],

  ['cut.stem', 'Diameter of a stem that is cut, at breast height', 5, 'in', OURS],
  ['cut.residual', 'Basal area left standing', 40, 'ft²/acre', `${OURS}; a forester sets it by the stand`],
  [
    'prism.factor',
    'Factor of the prism or angle gauge',
    10,
    'ft²/acre',
    `${PRACTICE}; read the mark on yours`,
  ],
  ['hinge.hours', 'Hinge cutting, a person', 24, 'h/acre', OURS],
  ['fell.hours', 'Felling for bedding or an opening, a person', 20, 'h/acre', OURS],

  ['trail.width', 'Width of a cleared trail where none is given', 6, 'ft', OURS],
  ['trail.hours', 'Clearing brush by hand, a person', 30, 'h/acre', OURS],
  ['lane.width', 'Width of a mulched lane where none is given', 12, 'ft', OURS],
  ['lane.hours', 'Mulching brush and saplings', 3, 'h/acre', OURS],

  ['screen.rows', 'Rows of a screen where none are given', 3, 'count', PRACTICE],
  ['screen.rowSpacing', 'Between the rows of a screen', 3, 'ft', PRACTICE],
  ['screen.spacing', 'Between plants of a screen set as rhizomes', 3, 'ft', PRACTICE],
  ['screen.plant', 'One rhizome', 1, '$', QUOTE],
  [
    'screen.seed',
    'Pure live seed of switchgrass, broadcast',
    8,
    'lb/acre',
    'NRCS planting guides give 5 to 10 lb PLS/acre; value from memory, use your state’s guide',
  ],
  ['seed.purity', 'Purity of the seed', 95, '%', `${OURS}; read the tag`],
  ['seed.germination', 'Germination of the seed, dormant included', 80, '%', `${OURS}; read the tag`],
  ['screen.price', 'Grass seed, pure live', 14, '$/lb', QUOTE],
  ['screen.bed', 'Killing sod, firming and seeding', 4, 'h/acre', OURS],
  ['plant.hours', 'Setting one plant by hand, a person', 0.02, 'h', OURS],
  ['plant.loss', 'Plants bought over the count, for losses', 10, '%', OURS],
  ['plant.bundle', 'Plants in a bundle', 25, 'count', PRACTICE],

  ['conifer.spacing', 'Between conifers in a row', 8, 'ft', PRACTICE],
  ['conifer.rowSpacing', 'Between rows of conifers', 8, 'ft', PRACTICE],
  ['conifer.rows', 'Rows of conifers along a line where none are given', 2, 'count', PRACTICE],
  ['conifer.price', 'One bare-root seedling', 1.5, '$', QUOTE],

  ['food.seed', 'Pure live seed of a cereal and clover mix', 60, 'lb/acre', `${OURS}; read the tag`],
  ['food.price', 'Food-plot seed, pure live', 1.5, '$/lb', QUOTE],
  ['food.hours', 'Spraying or discing, seeding and rolling', 4, 'h/acre', OURS],
  [
    'lime.strength',
    'Strength of the lime, its effective calcium carbonate equivalent',
    80,
    '%',
    `${OURS}; read the supplier’s analysis`,
  ],
  ['lime.least', 'Lime from which a truck spreads it in bulk; less comes in bags', 4000, 'lb', OURS],
  ['lime.price', 'Lime in bulk, delivered and spread', 60, '$/ton', QUOTE],
  ['lime.bag', 'Pelletized lime in a bag', 40, 'lb', PRACTICE],
  ['lime.bagPrice', 'One bag of pelletized lime', 7, '$', QUOTE],
  ['urea.content', 'Nitrogen in urea', 46, '%', 'grade 46-0-0 on the bag; value from memory'],
  ['urea.price', 'Urea', 0.5, '$/lb', QUOTE],
  [
    'phosphate.content',
    'Phosphate (P2O5) in triple superphosphate',
    46,
    '%',
    'grade 0-46-0 on the bag; value from memory',
  ],
  ['phosphate.price', 'Triple superphosphate', 0.6, '$/lb', QUOTE],
  [
    'potash.content',
    'Potash (K2O) in muriate of potash',
    60,
    '%',
    'grade 0-0-60 on the bag; value from memory',
  ],
  ['potash.price', 'Muriate of potash', 0.5, '$/lb', QUOTE],
  ['fertilizer.bag', 'Fertilizer in a bag', 50, 'lb', PRACTICE],
  ['seed.spare', 'Seed bought over the count', 5, '%', OURS],

  ['crossing.width', 'Width of a hardened crossing', 10, 'ft', OURS],
  ['crossing.apron', 'Stone up each bank', 10, 'ft', OURS],
  ['crossing.depth', 'Depth of stone', 1, 'ft', OURS],
  ['stone.density', 'Crushed stone as delivered', 1.4, 'ton/yd³', 'common practice, no source'],
  ['stone.price', 'Crushed stone, delivered', 45, '$/ton', QUOTE],
  ['stone.spare', 'Stone lost in the bed', 10, '%', OURS],
  ['crossing.hours', 'Shaping and placing stone', 6, 'h', OURS],

  ['lower.hours', 'Lowering one span, a person', 2, 'h', OURS],
  ['lower.material', 'Rail, clips and flagging for one span', 40, '$', QUOTE],
  ['stand.hours', 'Hanging a stand and its line, a person', 2.5, 'h', OURS],
  ['stand.price', 'Stand, climbing line and straps', 280, '$', QUOTE],
  ['tower.hours', 'Raising a tower blind, a person', 16, 'h', OURS],
  ['tower.price', 'Blind and tower', 2600, '$', QUOTE],
  ['tower.height', 'Height of a tower where none is given', 10, 'ft', OURS],
  [
    'tower.anchors',
    'Ground anchors of a tower',
    4,
    'count',
    'the maker’s instructions come first; our assumption',
  ],
  ['tower.anchor', 'One ground anchor with cable', 25, '$', QUOTE],
  ['feeder.hours', 'Taking out a feeder and what it spilled, a person', 2, 'h', OURS],

  ['draft.weekend', 'Days of the saw crew in a draft for a weekend', 2, 'days', OURS],
  ['draft.winter', 'Days of the saw crew in a draft for a winter', 12, 'days', OURS],
];

export type RateOf = (key: string) => number;

/** The rates in force, SI: the defaults under a property's own. */
export function rateTable(overrides: Readonly<Record<string, number>>): Rate[] {
  return TABLE.map(([key, label, typed, unit, source]) => ({
    key,
    label,
    unit,
    value: overrides[key] ?? fromUs(typed, unit),
    source,
  }));
}

/** @throws Error for a rate that is not in the table */
export function rateOf(rates: readonly Rate[]): RateOf {
  const values = new Map(rates.map(({ key, value }) => [key, value]));
  return (key) => {
    const value = values.get(key);
    if (value === undefined) throw new Error(`there is no rate ${key}`);
    return value;
  };
}

/**
 * The rates as a person reads and types them.
 *
 * @param used keys of those a job rests on
 */
export function rateRows(
  overrides: Readonly<Record<string, number>>,
  units: Units,
  used: ReadonlySet<string> = new Set(),
): RateRow[] {
  return rateTable(overrides).map((rate) => {
    const [unitText, factor] = typedUnit(rate.unit, units);
    // Typed numbers come back as they were typed.
    const typed = Number((rate.value / factor).toPrecision(6));
    return { ...rate, unitText, factor, typed, changed: rate.key in overrides, used: used.has(rate.key) };
  });
}
