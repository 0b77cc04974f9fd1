import { expect, test } from 'vitest';
import { creekHolds } from '../../../core/air/creek.ts';
import { SWEPT_ABOVE, valleyFroude } from '../../../core/air/decoupling.ts';
import { outside } from '../../outside.ts';

test("Bell & Thompson's number: by hand", () => {
  // g' = 9.81 x 2 / 285 = 0.0688; sqrt(g' 4) = 0.5248; 1 m/s over it is 1.906.
  const check = outside({
    room: 'air',
    method: 'Number that says whether wind sweeps cold air out of a hollow',
    source: 'Bell & Thompson 1980, by hand',
    unit: 'F',
    allowed: 5e-4,
  });
  check.compare(valleyFroude(1, 2, 4), 1.9057);
  check.done();
  expect(valleyFroude(1, 0, 4)).toBe(Number.POSITIVE_INFINITY);
  expect(valleyFroude(0, 2, 4)).toBe(0);
});

test('a ditch deeper than a person holds scent in a light wind, a shallow one does not (common practice, no source)', () => {
  const deep = { depth: 3.4, width: 9, deficit: 3 };
  expect(creekHolds({ ...deep, crossWind: 0.5 }, 'us').holds).toBe('holds');
  expect(creekHolds({ ...deep, crossWind: 3.6 }, 'us').holds).toBe('in part');
  const shallow = creekHolds({ depth: 0.6, width: 7, deficit: 3, crossWind: 0.3 }, 'us');
  expect(shallow.holds).toBe('does not hold');
  expect(shallow.words).toBe('bottom only 2.0 ft deep with a 0.7 mph cross wind: does not hold');
});

test('without cold air it is the shape that counts (Oke 1988: 0.65 skims, 0.35 wakes)', () => {
  const by = (depth: number) => creekHolds({ depth, width: 5, deficit: 0, crossWind: 3 }, 'metric').holds;
  expect(by(3.3)).toBe('holds');
  expect(by(3.2)).toBe('in part');
  expect(by(1.8)).toBe('in part');
  expect(by(1.7)).toBe('does not hold');
});

test('the number at which it turns is the published one', () => {
  const reach = { depth: 4, width: 40, deficit: 2 };
  const turn = SWEPT_ABOVE * Math.sqrt((9.81 / 285) * 2 * 4);
  expect(creekHolds({ ...reach, crossWind: turn * 0.99 }, 'us').holds).toBe('holds');
  expect(creekHolds({ ...reach, crossWind: turn * 1.01 }, 'us').holds).toBe('does not hold');
});

test('what the criterion was fed with is printed beside the verdict', () => {
  const { values, froude, aspect } = creekHolds({ depth: 4, width: 10, crossWind: 1, deficit: 2 }, 'metric');
  expect(froude).toBeCloseTo(1.9057, 3);
  expect(aspect).toBeCloseTo(0.4, 9);
  expect(values).toBe(
    '4.0 m deep, 10.0 m from bank to bank, 1.0 m/s across it; air 2.0 K colder, F 1.9 (cold air is swept out above 1.3, Bell & Thompson 1980); depth 0.40 of width (wind skims over from 0.65, eddies in from 0.35, Oke 1988)',
  );
  const day = creekHolds({ depth: 0.5, width: 10, crossWind: 3, deficit: 0 }, 'us').values;
  expect(day).toMatch(/no colder air, so that its shape decides/);
  expect(day).toMatch(/below 3\.3 ft a nose is above the bank \(our assumption\)/);
});

test('an unmeasured bottom is unknown, not guessed', () => {
  const unknown = creekHolds({ depth: null, width: 6, deficit: 2, crossWind: 1 }, 'us');
  expect(unknown.holds).toBe('unknown');
  expect(unknown.words).toMatch(/tape it/);
  expect(unknown.values).toBe('');
});
