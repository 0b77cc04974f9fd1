import { formatMass, formatShare, type Units, whole } from '../features/units.ts';
import { materialFor, roundUpTo } from './arithmetic.ts';
import { type Desk, type Estimate, onGround, seedOn } from './estimate.ts';
import { TON } from './rate-units.ts';
import type { Quantity } from './types.ts';

/** A food plot: its seed, and the lime and fertilizer a soil test asks for. */

const AFTER_TEST = 'after a soil test';

/** What a test of soil names for each nutrient, and the straight material it is bought as. */
const NUTRIENTS = [
  { attribute: 'nitrogen', name: 'nitrogen', material: 'Urea', rate: 'urea' },
  { attribute: 'phosphate', name: 'phosphate', material: 'Triple superphosphate', rate: 'phosphate' },
  { attribute: 'potash', name: 'potash', material: 'Muriate of potash', rate: 'potash' },
] as const;

interface Supply {
  quantities: Quantity[];
  /** Dollars; 0 for what is not known, which `unknown` says. */
  material: number;
  unknown: string[];
}

export function foodPlot(desk: Desk): Estimate {
  const { rate, quantity, area } = desk;
  const seed = seedOn(desk, area, { seed: 'food.seed', price: 'food.price' });
  const [lime, fertilizer] = [limeOn(desk), fertilizerOn(desk)];
  return {
    quantities: [
      quantity('Ground', area, 'area', 'measured on the map'),
      ...seed.quantities,
      ...lime.quantities,
      ...fertilizer.quantities,
    ],
    hours: area * rate('food.hours'),
    material: seed.material === null ? null : seed.material + lime.material + fertilizer.material,
    unknown: [...lime.unknown, ...fertilizer.unknown],
  };
}

/** kg/m² typed from a soil test; nothing asked for is an answer too. */
function tested({ feature }: Desk, attribute: string): number | null {
  const value = feature.attributes[attribute];
  return typeof value === 'number' && value >= 0 ? value : null;
}

const untested = ({ quantity }: Desk, label: string): Quantity => ({
  ...quantity(label, null, 'mass', 'type in what the test asks for'),
  text: AFTER_TEST,
});

/** Lime of the strength at hand for what the test asks in effective lime: by the ton from a truck, or in bags. */
function limeOn(desk: Desk): Supply {
  const { rate, quantity, area, units } = desk;
  const effective = tested(desk, 'lime');
  if (effective === null)
    return {
      quantities: [untested(desk, 'Lime')],
      material: 0,
      unknown: [`Lime: ${AFTER_TEST}, and not in the money.`],
    };
  const strength = rate('lime.strength');
  const spread = materialFor(effective * area, strength);
  if (spread === null)
    return {
      quantities: [quantity('Lime', null, 'mass', 'its strength must be above nothing')],
      material: 0,
      unknown: ['Lime: its strength must be above nothing and at most all of it; it is not in the money.'],
    };
  const ton = units === 'metric' ? 1000 : TON;
  const isBulk = spread >= rate('lime.least');
  const bag = rate('lime.bag');
  const count = Math.round(roundUpTo(spread, bag) / bag);
  const bulk = roundUpTo(spread, ton);
  return {
    quantities: [
      quantity(
        'Lime',
        spread,
        'mass',
        `effective lime ${onGround(effective, units)} by the soil test, over ${formatShare(strength)} strength`,
        spread === 0 ? null : isBulk ? formatMass(bulk, units) : bags(count, bag, units),
      ),
    ],
    material: isBulk ? bulk * rate('lime.price') : count * rate('lime.bagPrice'),
    unknown: [],
  };
}

/** Straight materials, which hold one nutrient each: a blend that holds the same does as well. */
function fertilizerOn(desk: Desk): Supply {
  const { rate, quantity, area, units } = desk;
  const asked = NUTRIENTS.map((nutrient) => ({ ...nutrient, needed: tested(desk, nutrient.attribute) }));
  const open = asked.filter(({ needed }) => needed === null).map(({ name }) => name);
  if (open.length === asked.length)
    return {
      quantities: [untested(desk, 'Fertilizer')],
      material: 0,
      unknown: [`Fertilizer: ${AFTER_TEST}, and not in the money.`],
    };
  const bag = rate('fertilizer.bag');
  const parts = asked.map(({ material, name, rate: key, needed }) => {
    if (needed === null) return { quantity: untested(desk, material), dollars: 0 };
    const content = rate(`${key}.content`);
    const mass = materialFor(needed * area, content);
    const count = mass === null ? 0 : Math.round(roundUpTo(mass, bag) / bag);
    return {
      quantity: quantity(
        material,
        mass,
        'mass',
        `${name} ${onGround(needed, units)} by the soil test, over ${formatShare(content)} in it`,
        count === 0 ? null : bags(count, bag, units),
      ),
      dollars: count * bag * rate(`${key}.price`),
    };
  });
  return {
    quantities: parts.map(({ quantity }) => quantity),
    material: parts.reduce((sum, { dollars }) => sum + dollars, 0),
    unknown:
      open.length > 0 ? [`Fertilizer, ${open.join(' and ')}: ${AFTER_TEST}, and not in the money.`] : [],
  };
}

const bags = (count: number, bag: number, units: Units): string =>
  `${whole(count)} ${count === 1 ? 'bag' : 'bags'} of ${formatMass(bag, units)}`;
