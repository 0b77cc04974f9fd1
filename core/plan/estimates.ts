import { formatMass, formatShare, whole } from '../features/units.ts';
import { barricadeTrees, basalAreaOf, plantsAlong, plantsOn, roundUpTo, stemsToCut } from './arithmetic.ts';
import { type Desk, type Estimate, hoursOn, seedOn } from './estimate.ts';
import { foodPlot } from './food-plot.ts';
import { TON } from './rate-units.ts';
import type { JobKind } from './types.ts';

/** How much of everything each kind of job takes. */
export const ESTIMATES: Record<JobKind, (desk: Desk) => Estimate> = {
  barricade: (desk) => {
    const { rate, quantity, length, short } = desk;
    const height = desk.stated('height', 'barricade.height');
    const top = { cover: desk.stated('spacing', 'barricade.cover'), height: rate('barricade.top') };
    const trees = barricadeTrees(length, height, top, rate('barricade.spare'));
    return {
      quantities: [
        quantity('Length', length, 'length', 'measured on the map'),
        quantity('Height', height, 'height', 'as drawn, else the usual'),
        quantity(
          'Trees to fell',
          trees,
          'count',
          `a top every ${short(top.cover)}, in layers of ${short(top.height)}, ${formatShare(rate('barricade.spare'))} over`,
        ),
      ],
      hours: trees * rate('barricade.hours'),
      material: 0,
      unknown: ['Whether enough trees of no other worth stand within reach of the line.'],
    };
  },

  'hinge cut': (desk) => thinned(desk, 'hinge.hours'),
  'felled bedding': (desk) => thinned(desk, 'fell.hours'),

  'cleared trail': (desk) => swath(desk, 'trail.width', 'trail.hours'),
  'mulched lane': (desk) => swath(desk, 'lane.width', 'lane.hours'),

  'screen planting': (desk) => {
    const { rate, quantity, length, feature, short } = desk;
    const rows = desk.stated('rows', 'screen.rows');
    const rowSpacing = desk.stated('rowSpacing', 'screen.rowSpacing');
    const isBed = desk.area > 0;
    const area = isBed ? desk.area : length * rows * rowSpacing;
    if (feature.attributes.plant === 'rhizomes') {
      const spacing = desk.stated('spacing', 'screen.spacing');
      const count = isBed ? plantsOn(area, spacing, rowSpacing) : plantsAlong(length, spacing, rows);
      const how = isBed
        ? `one on every ${short(spacing)} by ${short(rowSpacing)}`
        : `${whole(rows)} rows, one every ${short(spacing)}`;
      return {
        quantities: [
          ...(isBed ? [] : [quantity('Length', length, 'length', 'measured on the map')]),
          quantity(
            'Ground planted',
            area,
            'area',
            isBed ? 'measured on the map' : 'rows times their spacing',
          ),
          ...bought(desk, 'Rhizomes', count, how),
        ],
        hours: count * rate('plant.hours'),
        material: bundled(desk, count) * rate('screen.plant'),
        unknown: ['Which form is sold: only a sterile one, where the plant is lawful at all.'],
      };
    }
    const seed = seedOn(desk, area, { seed: 'screen.seed', price: 'screen.price' });
    return {
      quantities: [
        ...(isBed
          ? []
          : [
              quantity('Length', length, 'length', 'measured on the map'),
              quantity('Rows', rows, 'count', `${short(rowSpacing)} apart`),
            ]),
        quantity('Ground planted', area, 'area', isBed ? 'measured on the map' : 'rows times their spacing'),
        ...seed.quantities,
      ],
      hours: area * rate('screen.bed'),
      material: seed.material,
      unknown: ['Sod and soil: where grass stands, kill it the year before; seed by your state’s guide.'],
    };
  },

  conifers: (desk) => {
    const { rate, quantity, length, short } = desk;
    const spacing = desk.stated('spacing', 'conifer.spacing');
    const rowSpacing = desk.stated('rowSpacing', 'conifer.rowSpacing');
    const isBed = desk.area > 0;
    const rows = desk.stated('rows', 'conifer.rows');
    const count = isBed ? plantsOn(desk.area, spacing, rowSpacing) : plantsAlong(length, spacing, rows);
    return {
      quantities: [
        isBed
          ? quantity('Ground planted', desk.area, 'area', 'measured on the map')
          : quantity('Length', length, 'length', 'measured on the map'),
        ...bought(
          desk,
          'Seedlings',
          count,
          isBed
            ? `one on every ${short(spacing)} by ${short(rowSpacing)}`
            : `${whole(rows)} rows, one every ${short(spacing)}`,
        ),
      ],
      hours: count * rate('plant.hours'),
      material: bundled(desk, count) * rate('conifer.price'),
      unknown: ['Which species the soil carries and whether deer must be kept off it with tubes.'],
    };
  },

  opening: (desk) => thinned(desk, 'fell.hours', 0),

  'food plot': foodPlot,

  'water crossing': (desk) => {
    const { rate, quantity, feature, short, units } = desk;
    const across = typeof feature.attributes.width === 'number' ? feature.attributes.width : null;
    const [wide, deep] = [rate('crossing.width'), rate('crossing.depth')];
    const volume = across === null ? null : (across + 2 * rate('crossing.apron')) * wide * deep;
    const mass = volume === null ? null : volume * rate('stone.density');
    const ton = units === 'metric' ? 1000 : TON;
    const load = mass === null ? null : roundUpTo(mass * (1 + rate('stone.spare')), ton);
    return {
      quantities: [
        quantity('Bed from bank to bank', across, 'height', 'as drawn'),
        quantity('Stone', volume, 'volume', `${short(wide)} wide and ${short(deep)} deep, up both banks`),
        quantity(
          'Stone by weight',
          mass,
          'mass',
          'at its density as delivered',
          load === null ? null : formatMass(load, units),
        ),
      ],
      hours: rate('crossing.hours'),
      material: load === null ? null : load * rate('stone.price'),
      unknown: [
        'Which permits the bed and banks need; no stone goes in before they are in hand.',
        ...(across === null ? ['The width of the bed: measure it, and type it in as the width.'] : []),
      ],
    };
  },

  'fence lowering': ({ rate, quantity }) => ({
    quantities: [quantity('Spans', 1, 'count', 'one where it is drawn')],
    hours: rate('lower.hours'),
    material: rate('lower.material'),
    unknown: ['Whose fence it is, and what stock it must hold.'],
  }),

  stand: ({ rate, quantity, feature }) => ({
    quantities: [
      quantity('Stands', 1, 'count', 'as drawn'),
      quantity(
        'Seat height',
        typeof feature.attributes.seatHeight === 'number' ? feature.attributes.seatHeight : null,
        'height',
        'as drawn',
      ),
    ],
    hours: rate('stand.hours'),
    material: rate('stand.price'),
    unknown: ['Whether a sound, straight tree stands there.'],
  }),

  'tower blind': (desk) => {
    const { rate, quantity } = desk;
    const anchors = rate('tower.anchors');
    return {
      quantities: [
        quantity(
          'Tower height',
          desk.stated('towerHeight', 'tower.height'),
          'height',
          'as drawn, else the usual',
        ),
        quantity('Ground anchors', anchors, 'count', 'at least what the maker asks for', whole(anchors)),
      ],
      hours: rate('tower.hours'),
      material: rate('tower.price') + anchors * rate('tower.anchor'),
      unknown: ['Whether the ground holds an anchor, and how the tower is brought there.'],
    };
  },

  'feeder to remove': ({ rate, quantity }) => ({
    quantities: [quantity('Feeders', 1, 'count', 'as drawn')],
    hours: rate('feeder.hours'),
    material: 0,
    unknown: ['How long before the season local law wants bait gone.'],
  }),
};

/** Ground whose trees are thinned to a basal area. The area today is a field measure: without it no stem is counted. */
function thinned(desk: Desk, hours: string, left = desk.stated('basalAreaLeft', 'cut.residual')): Estimate {
  const { rate, quantity, area, short, units } = desk;
  const { value: now, how } = basalAreaToday(desk);
  const stem = desk.stated('stem', 'cut.stem');
  return {
    quantities: [
      quantity('Ground', area, 'area', 'measured on the map'),
      quantity('Basal area today', now, 'basal area', how),
      quantity('Basal area left', left, 'basal area', 'what is to stand when it is done'),
      quantity(
        'Stems to cut',
        now === null ? null : stemsToCut(now, left, stem, area),
        'count',
        now === null
          ? 'needs the basal area of today'
          : `the difference in stems of ${short(stem)} at breast height`,
      ),
    ],
    hours: area * rate(hours),
    material: 0,
    unknown:
      now === null
        ? [
            `The basal area of today: take it with a prism or angle gauge. Hours are ${hoursOn(rate(hours), units)}.`,
          ]
        : now <= left
          ? ['What is to be cut: less stands there today than is to be left.']
          : [],
  };
}

/** As typed, else from counts with a prism; null while neither was done. */
function basalAreaToday({ feature, rate }: Desk): { value: number | null; how: string } {
  const { basalArea, prismTrees, prismPoints } = feature.attributes;
  if (typeof basalArea === 'number') return { value: basalArea, how: 'as measured in the stand' };
  if (typeof prismTrees !== 'number' || typeof prismPoints !== 'number' || prismPoints <= 0)
    return { value: null, how: 'as measured in the stand' };
  return {
    value: basalAreaOf(prismTrees, prismPoints, rate('prism.factor')),
    how: `${whole(prismTrees)} trees in at ${whole(prismPoints)} ${prismPoints === 1 ? 'point' : 'points'}, times the factor of the prism`,
  };
}

function swath(desk: Desk, width: string, hours: string): Estimate {
  const { rate, quantity, length, short, units } = desk;
  const wide = desk.stated('width', width);
  return {
    quantities: [
      quantity('Length', length, 'length', 'measured on the map'),
      quantity('Width', wide, 'height', 'as drawn, else the usual'),
      quantity('Brush to take', length * wide, 'area', `length by ${short(wide)}`),
    ],
    hours: length * wide * rate(hours),
    material: 0,
    unknown: [`How thick the brush is: ${hoursOn(rate(hours), units)} is for middling growth.`],
  };
}

const bundled = ({ rate }: Desk, count: number): number =>
  roundUpTo(count * (1 + rate('plant.loss')), Math.max(1, rate('plant.bundle')));

const bought = (desk: Desk, label: string, count: number, how: string) => [
  desk.quantity(
    label,
    count,
    'count',
    how,
    `${whole(bundled(desk, count))}, in bundles of ${whole(desk.rate('plant.bundle'))}`,
  ),
];
