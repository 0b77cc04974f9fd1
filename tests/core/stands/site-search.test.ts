import { describe, expect, test } from 'vitest';
import { COVER } from '../../../core/cover/types.ts';
import { DEFAULT_HUNT } from '../../../core/stands/hunt-settings.ts';
import {
  prepareSearch,
  type SiteGround,
  type SiteRules,
  type SiteWish,
} from '../../../core/stands/site-ground.ts';
import { searchSites, siteInFull } from '../../../core/stands/site-search.ts';
import { siteSpots } from '../../../core/stands/site-spots.ts';
import { feature, point } from './scene.ts';
import { air, at, features, frame, ground, rules, wish } from './site-scene.ts';

describe('the search for sites', () => {
  const found = searchSites(ground, air, wish, rules);

  test('finds the best spot there is, as judging every spot in full does', () => {
    const search = prepareSearch(ground, air, wish, rules);
    const all = siteSpots(ground.cover, features, [], 'any').map((spot) => siteInFull(search, spot, 'x'));
    const good = all.filter(({ faults }) => faults.length === 0).sort((a, b) => b.value - a.value);
    expect(all).toHaveLength(7 * 14);
    expect(good.length).toBeGreaterThan(5);
    expect(found.sites[0]!.value).toBe(good[0]!.value);
    expect(good.filter(({ value }) => value === good[0]!.value).map(({ spot }) => spot.at)).toContainEqual(
      found.sites[0]!.spot.at,
    );
    expect(found.looked.judged).toBeLessThan(all.length / 4);
  });
  test('proposes nothing on the neighbour’s ground, and says so of the neck that lies there', () => {
    for (const { spot } of [...found.sites, ...found.ifWay]) expect(spot.at[0]).toBeLessThan(220);
    const neck = found.passed.find(({ name }) => name === 'Neck 1')!;
    expect(neck.faults.map(({ key }) => key)).toEqual(['owner']);
    expect(neck.faults[0]!.sentence).toBe('It lies on ground that is not the client’s.');
  });
  test('sites lie apart, and keep off stands that are there', () => {
    for (const [k, a] of found.sites.entries())
      for (const b of found.sites.slice(k + 1))
        expect(Math.hypot(a.spot.at[0] - b.spot.at[0], a.spot.at[1] - b.spot.at[1])).toBeGreaterThanOrEqual(
          DEFAULT_HUNT.apart,
        );
    const [best] = found.sites;
    const again = searchSites(
      ground,
      air,
      { ...wish, stands: [{ ...best!.spot, name: 'Old stand' }] },
      rules,
    );
    for (const { spot } of again.sites)
      expect(Math.hypot(spot.at[0] - best!.spot.at[0], spot.at[1] - best!.spot.at[1])).toBeGreaterThanOrEqual(
        DEFAULT_HUNT.apart / 2,
      );
  });
  test('is the same every time', () => {
    expect(searchSites(ground, air, wish, rules)).toEqual(found);
  });
  test('without a boundary that is said and nothing is called the neighbour’s', () => {
    const bare = searchSites({ ...ground, features: features.slice(1) }, air, wish, rules);
    expect(bare.doubts.join(' ')).toMatch(/No boundary is mapped/);
    expect(bare.passed.flatMap(({ faults }) => faults).some(({ key }) => key === 'owner')).toBe(false);
    expect(found.doubts.join(' ')).not.toMatch(/No boundary/);
  });
  test('scent, a way that cannot be clean and no backstop are each named', () => {
    const named = (
      over: Partial<SiteGround>,
      more: Partial<SiteWish> = {},
      rule: Partial<SiteRules> = {},
    ) => {
      const { faults } = siteInFull(
        prepareSearch({ ...ground, ...over }, air, { ...wish, ...more }, { ...rules, ...rule }),
        { at: at(170, 230), seat: 'tower' },
        'x',
      );
      return faults.map(({ key }) => key);
    };
    expect(named({})).toEqual([]);
    // The only way in crosses the trail.
    expect(named({ features: [features[0]!, feature('access', point(90, 240), {})] })).toContain('way');
    // From flat ground and with a long range a line runs on past the deer.
    expect(named({}, { range: 150, weapon: 'rifle' })).toContain('backstop');
    // With no wind at all from the side that serves, nothing is left.
    expect(named({}, {}, { hunt: { ...rules.hunt, alarm: 0 } })).toContain('scent');
    // Timber is wanted where there is none.
    const trees = searchSites(ground, air, { ...wish, seat: 'tree' }, rules);
    expect(trees.sites).toEqual([]);
    const wood = { frame, cells: ground.cover.cells.map(() => COVER.deciduous) };
    expect(siteSpots(wood, features, [], 'tree')).toHaveLength(7 * 14);
  });
});
