import { describe, expect, test } from 'vitest';
import { COVER } from '../../../core/cover/types.ts';
import type { HuntedPart } from '../../../core/stands/case-verdict.ts';
import { HUNTED, standCases } from '../../../core/stands/case-verdict.ts';
import { readyGround } from '../../../core/stands/judge-way.ts';
import { lookFrom } from '../../../core/stands/look.ts';
import { reachMask, subjectOf } from '../../../core/stands/reach-mask.ts';
import { ruleStands } from '../../../core/stands/rulings.ts';
import { screenedGround } from '../../../core/stands/screening.ts';
import { DEFAULT_STANDS } from '../../../core/stands/settings.ts';
import { waysOfParts, windsToWalkIn } from '../../../core/stands/sitting.ts';
import { standVerdict } from '../../../core/stands/verdict.ts';
import { frameOf, gridOf, sightGround, standAt } from './scene.ts';
import { air, rules, ground as scene } from './site-scene.ts';

// Nobody knows where people come from, so no way in is held against a stand.
const ground = { ...scene, features: scene.features.slice(0, 1) };

const stand = (x: number, y: number, way = rules.way) => {
  const spot = standAt(x, y, { seatHeight: 3.5, range: 45, name: 'Old stand' });
  const cases = standCases(
    subjectOf(spot),
    { ...ground, ground: { ...ground, routes: ground.walked }, reach: reachMask(ground, spot, 'off') },
    air,
    { ...rules.rough, hunt: rules.hunt, parts: HUNTED.filter((part: HuntedPart) => rules.lawful[part] > 0) },
  );
  const verdict = standVerdict(cases, rules.lawful, rules.hunt);
  const { reach } = lookFrom(spot, ground, DEFAULT_STANDS, 'us');
  const options = { ...way, airBearing: ground.airBearing, convergence: 0 };
  const ways = waysOfParts(spot, readyGround(ground, 'off'), windsToWalkIn(verdict), options, 'us');
  return { spot, verdict, reach, ways };
};

describe('rulings', () => {
  test('a stand out of range of its trail is moved, and the gain is what the verdict there gives', () => {
    // The trail passes 60 m off, and 45 m is shot.
    const [ruling] = ruleStands([stand(210, 330)], ground, air, rules);
    expect(ruling!.worst!.fault).toBe('reach');
    expect(ruling!.ruling).toBe('move');
    const [x, y] = ruling!.change!.at!;
    expect(Math.abs(x - 150)).toBeLessThan(45);
    // Run again by hand at the place it is moved to.
    const there = stand(x, y);
    const hours = there.verdict.hours!.usual;
    expect(ruling!.change!.hours).toBeCloseTo(hours, 9);
    expect(ruling!.change!.gained).toBeCloseTo(hours - ruling!.hours, 9);
    expect(ruling!.change!.gained).toBeGreaterThan(5);
    expect(ruling!.sentence).toMatch(/^Move it .* It gains .* hours a week\.$/);
    expect(ruling!.doubts.join(' ')).toMatch(/No access, gate or house is mapped/);
  });
  test('a stand with nothing better near is kept, and no gain is claimed for it', () => {
    const [moved] = ruleStands([stand(210, 330)], ground, air, rules);
    const [x, y] = moved!.change!.at!;
    const [ruling] = ruleStands([stand(x, y)], ground, air, rules);
    expect(['keep', 'screen']).toContain(ruling!.ruling);
    for (const { gained } of ruling!.tried.filter((each) => each.ruling === 'move'))
      expect(gained).toBeLessThan(5);
  });
  test('a stand no travel comes to, with none near, is given up', () => {
    const lonely = { ...ground, walked: ground.walked.slice(0, 1), routes: ground.routes.slice(0, 1) };
    const before = stand(210, 110);
    const parts = before.verdict.parts.map((part) => ({
      ...part,
      clean: null,
      winds: [],
      hours: { usual: 0, low: 0, high: 0 },
    }));
    const verdict = {
      ...before.verdict,
      parts,
      spoils: [{ cause: 'hardly any travel comes in reach and view', hours: 28 }],
    };
    const [ruling] = ruleStands([{ ...before, verdict }], lonely, air, rules);
    expect(ruling!.ruling).toBe('retire');
    expect(ruling!.change).toBeNull();
    expect(ruling!.sentence).toMatch(/^Retire Old stand: 0\.0 usable hours/);
  });
});

describe('a grown screen', () => {
  const frame = frameOf(40, 40, 2.5);
  const open = { ...sightGround(frame, () => 200), vegetation: gridOf(frame, () => 0) };
  test('hides what is behind it and leaves timber and the ground off its line as they are', () => {
    const wood = open.cover.cells.slice();
    wood[0] = COVER.deciduous;
    const planted = screenedGround({ ...open, cover: { frame, cells: wood } }, [
      [
        [0, 50],
        [100, 50],
      ],
    ]);
    // 5 m deep over 100 m.
    expect(planted.planted).toBeCloseTo(500, 6);
    expect(planted.cover.cells[0]).toBe(COVER.deciduous);
    const spot = standAt(50, 20, { seatHeight: 0.5, range: 60 });
    const across = (over: typeof open) => {
      const mask = reachMask(over, spot, 'off');
      return mask.cells[
        Math.floor((mask.frame.north - 75) / 2.5) * mask.frame.width +
          Math.floor((50 - mask.frame.west) / 2.5)
      ];
    };
    expect(across(open)).toBe(1);
    expect(across(planted)).toBe(0);
  });
});
