import { expect, test } from 'vitest';
import { ACRE, FOOT, POUND, YARD } from '../../../core/features/units.ts';
import {
  barricadeTrees,
  basalAreaOf,
  bulkSeed,
  materialFor,
  plantsAlong,
  plantsOn,
  roundUpTo,
  stemArea,
  stemsToCut,
} from '../../../core/plan/arithmetic.ts';
import { outside } from '../../outside.ts';

// The seed-tag example of the NRCS planting guides, value from memory: 95% pure and 80% germination is 76% pure
// live seed, so 10 lb PLS an acre is 13.2 lb of bulk seed.
test('pure live seed', () => {
  const check = outside({
    room: 'plan',
    method: 'Bulk seed for pounds of pure live seed',
    source: 'NRCS planting guides, seed-tag example (value from memory)',
    unit: 'lb an acre',
    allowed: 5e-4,
  });
  check.compare(bulkSeed(10 * POUND, 0.95, 0.8)! / POUND, 13.158);
  check.done();
  expect(bulkSeed(1, 1, 1)).toBe(1);
  expect(bulkSeed(1, 0, 0.8)).toBeNull();
  expect(bulkSeed(1, 95, 80)).toBeNull();
});

// Trees an acre by spacing, as foresters' handbooks print them (43,560 ft² over the spacing): value from memory.
test.each([
  [6, 6, 1210],
  [8, 8, 680],
  [8, 10, 544],
  [10, 10, 435],
  [12, 12, 302],
])('%i by %i ft is %i an acre', (a, b, count) => {
  const check = outside({
    room: 'plan',
    method: 'Trees an acre by spacing',
    source: 'foresters’ handbooks (values from memory)',
    unit: 'trees',
    allowed: 0,
  });
  check.compare(plantsOn(ACRE, a * FOOT, b * FOOT), count);
  check.done();
});

// A fence has one post more than it has spans.
test('a row has a plant at both ends', () => {
  expect(plantsAlong(100 * YARD, 3 * FOOT, 1)).toBe(101);
  expect(plantsAlong(100 * YARD, 3 * FOOT, 3)).toBe(303);
  expect(plantsAlong(1, 2, 1)).toBe(1);
});

// Basal area of a stem in ft² is 0.005454 d² with d in inches (forest mensuration textbooks): 10 in is 0.545 ft².
test('basal area of a stem and stems to cut', () => {
  const check = outside({
    room: 'plan',
    method: 'Basal area of a stem',
    source: 'forest mensuration textbooks, 0.005454 d²',
    unit: 'ft²',
    allowed: 5e-5,
  });
  for (const [inches, squareFeet] of [
    [10, 0.5454],
    [12, 0.7854],
    [16, 1.3963],
  ] as const)
    check.compare(stemArea(inches * (FOOT / 12)) / FOOT ** 2, squareFeet);
  check.done();
  // From 100 to 40 ft²/acre on 2 acres in 10 inch stems: 60 / 0.5454 = 110.0 stems an acre.
  const basal = (FOOT ** 2 / ACRE) * 10_000;
  expect(stemsToCut(100 * basal, 40 * basal, 10 * (FOOT / 12), 2 * ACRE)).toBe(220);
  expect(stemsToCut(30 * basal, 40 * basal, 0.25, ACRE)).toBe(0);
});

// By hand: 60 m in tops of 4 m is 15 in a layer; 1.5 m of height needs two layers of 1.2 m; 10% over 30 is 33.
test('trees of a barricade', () => {
  expect(barricadeTrees(60, 1.5, { cover: 4, height: 1.2 }, 0.1)).toBe(33);
  expect(barricadeTrees(60, 1.2, { cover: 4, height: 1.2 }, 0)).toBe(15);
  expect(barricadeTrees(61, 1.2, { cover: 4, height: 1.2 }, 0)).toBe(16);
});

test('what is sold in bundles is bought in bundles', () => {
  expect([1, 25, 26, 303 * 1.1].map((n) => roundUpTo(n, 25))).toEqual([25, 25, 50, 350]);
});

// The worked example of forestry handbooks, value from memory: 45 trees in at 5 points with a 10-factor prism are 9 a
// point and 90 ft² an acre.
test('basal area by a prism', () => {
  const check = outside({
    room: 'plan',
    method: 'Basal area from counts with a prism',
    source: 'forestry handbooks, 10-factor prism (values from memory)',
    unit: 'ft² an acre',
    allowed: 1e-9,
  });
  check.compare(basalAreaOf(45, 5, 10), 90);
  check.compare(basalAreaOf(7, 1, 20), 140);
  check.done();
});

// Extension bulletins, values from memory: 100 lb of nitrogen are 217 lb of urea (46-0-0), 46 lb of phosphate 100 lb of
// triple superphosphate (0-46-0), 60 lb of potash 100 lb of muriate (0-0-60); 3,000 lb of effective lime are 5,000 lb
// of a lime of 60%.
test('lime and fertilizer by what is in them', () => {
  const check = outside({
    room: 'plan',
    method: 'Material that holds what a soil test asks for',
    source: 'extension bulletins on fertilizer grades and effective lime (values from memory)',
    unit: 'lb',
    allowed: 0.5,
  });
  check.compare(materialFor(100, 0.46)!, 217);
  check.compare(materialFor(46, 0.46)!, 100);
  check.compare(materialFor(60, 0.6)!, 100);
  check.compare(materialFor(3000, 0.6)!, 5000);
  check.done();
  expect(materialFor(0, 0.5)).toBe(0);
  expect(materialFor(1, 0)).toBeNull();
  expect(materialFor(1, 46)).toBeNull();
});
