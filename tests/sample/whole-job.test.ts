import { beforeAll, describe, expect, test } from 'vitest';
import { creekHolds } from '../../core/air/creek.ts';
import type { Artifacts } from '../../core/analysis/artifacts.ts';
import type { ReportModel, ReportTopic } from '../../core/analysis/report.ts';
import type { Settings } from '../../core/analysis/settings.ts';
import { COVER } from '../../core/cover/types.ts';
import { cellAt, type Point } from '../../core/grid/frame.ts';
import type { XY } from '../../sample-rasters/generator/lines.ts';
import * as place from '../../sample-rasters/generator/scenario.ts';
import { makeVegetation, PLANT } from '../../sample-rasters/generator/vegetation.ts';
import { REAL, runJob, runSteps, SAMPLE } from './run-job.ts';

/** The whole job on the sample must find what was planted there: the scenario is the outside truth. */

const onMap = ([x, y]: XY): Point => [place.WEST + x, place.SOUTH + y];
const away = (at: Point, spot: XY): number => Math.hypot(at[0] - onMap(spot)[0], at[1] - onMap(spot)[1]);
const pageOf = (report: ReportModel, topic: ReportTopic) =>
  report.pages.find((page) => page.topic === topic)!;

describe('the invented farm', () => {
  let artifacts: Artifacts;
  let report: ReportModel;
  let settings: Settings;
  beforeAll(async () => {
    const job = await runJob(SAMPLE);
    ({ artifacts, report } = job);
    settings = job.imported.settings;
  }, 120_000);

  describe('ground', () => {
    test('the saddle is found within 30 m, and is the most marked on the map', () => {
      const best = artifacts.saddles.reduce((a, b) => (b.rise > a.rise ? b : a));
      expect(away(best.at, place.SADDLE)).toBeLessThan(30);
      expect(best.rise).toBeGreaterThan(10);
    });

    test('both benches are found, each the width of a shelf', () => {
      for (const { name, middle } of place.BENCHES) {
        const found = artifacts.benches.filter(({ centre }) => away(centre, middle) < 50);
        expect(found, name).toHaveLength(1);
        expect(found[0]!.width).toBeGreaterThan(15);
        expect(found[0]!.width).toBeLessThan(50);
      }
    });

    test('the creek is deep in its eastern reach and shallow in its western one', () => {
      const depths = (from: number, to: number): number[] =>
        artifacts.channels
          .filter(({ at }) => at[0] - place.WEST > from && at[0] - place.WEST < to)
          .filter(({ at }) => place.CREEK.some((spot) => away(at, spot) < 15))
          .flatMap(({ left, right }) => (left === null || right === null ? [] : [Math.min(left, right)]));
      const [deep, shallow] = [depths(place.DEEP_FROM + 40, 1960), depths(760, place.SHALLOW_TO - 40)];
      expect(Math.min(deep.length, shallow.length)).toBeGreaterThan(5);
      for (const depth of deep) expect(depth).toBeGreaterThan(2.5);
      for (const depth of shallow) expect(depth).toBeLessThan(1.2);
    });

    test('trap: the shallow reach holds no scent, in an 8 mph cross wind or on a still night; the deep one does', () => {
      const at = (x: number, crossWind: number, deficit: number) => {
        const near = artifacts.channels
          .filter(({ width, at: spot }) => width !== null && place.CREEK.some((c) => away(spot, c) < 15))
          .reduce((a, b) =>
            Math.abs(b.at[0] - place.WEST - x) < Math.abs(a.at[0] - place.WEST - x) ? b : a,
          );
        const depth = near.left === null || near.right === null ? null : Math.min(near.left, near.right);
        return creekHolds({ depth, width: near.width, crossWind, deficit }, 'us');
      };
      expect(at(1100, 3.6, 0)).toMatchObject({ holds: 'does not hold' });
      expect(at(1100, 3.6, 0).words).toMatch(/only \d\.\d ft/);
      expect(at(1100, 0.5, 3).holds).toBe('does not hold');
      expect(at(1800, 0.5, 3).holds).toBe('holds');
      expect(at(1800, 3.6, 0).holds).not.toBe('holds');
    });

    test('drainage runs down the three hollows to the creek', () => {
      for (const hollow of place.HOLLOWS) {
        const head = hollow.at(-1)!;
        const near = artifacts.drainageLines.filter(({ path }) => path.some((at) => away(at, head) < 15));
        expect(near.length).toBeGreaterThan(0);
      }
      // The trunk stream is the creek: it leaves the map in the west and drains by far the most.
      const trunk = artifacts.drainageLines.reduce((a, b) => (b.catchment > a.catchment ? b : a));
      const mouth = trunk.path.at(-1)!;
      expect(mouth[0] - place.WEST).toBeLessThan(10);
      expect(trunk.next).toBeNull();
    });
  });

  test('cover: timber, fields and water are read from the photo as they were painted', () => {
    const { plant } = makeVegetation();
    const across = place.WIDTH / place.PHOTO_CELL;
    const { frame, cells } = artifacts.cover;
    const share = (kinds: number[], codes: number[]): number => {
      let [right, all] = [0, 0];
      for (let i = 0; i < cells.length; i++) {
        const x = ((i % frame.width) + 0.5) * frame.cellSize;
        const y = (Math.floor(i / frame.width) + 0.5) * frame.cellSize;
        if (
          !kinds.includes(
            plant[Math.floor(y / place.PHOTO_CELL) * across + Math.floor(x / place.PHOTO_CELL)]!,
          )
        )
          continue;
        all++;
        if (codes.includes(cells[i]!)) right++;
      }
      return right / all;
    };
    expect(artifacts.coverSource).toBe('imagery');
    expect(share([PLANT.timber], [COVER.deciduous])).toBeGreaterThan(0.95);
    expect(share([PLANT.pine], [COVER.evergreen])).toBeGreaterThan(0.9);
    expect(share([PLANT.corn, PLANT.hay], [COVER.open])).toBeGreaterThan(0.9);
    expect(share([PLANT.water], [COVER.water])).toBeGreaterThan(0.9);
  });

  describe('travel', () => {
    test('the underpass is the best neck: on the farm, firm, and no wider than it is', () => {
      const [best] = artifacts.necks;
      expect(away(best!.at, place.UNDERPASS)).toBeLessThan(30);
      expect(best).toMatchObject({ rank: 1, owner: 'inside', firm: true });
      expect(best!.landmarks).toContain('underpass');
      expect(best!.width).toBeLessThan(15);
    });

    test('nearly all that crosses the railroad does so there', () => {
      const rail = artifacts.crossings.filter(({ kind }) => kind === 'railroad');
      const there = rail
        .filter(({ at }) => away(at, place.UNDERPASS) < 20)
        .reduce((sum, { share }) => sum + share, 0);
      const all = rail.reduce((sum, { share }) => sum + share, 0);
      expect(there / all).toBeGreaterThan(0.9);
    });

    test('the wooded saddle is a neck, and its two sides are the neighbour’s', () => {
      const neck = artifacts.necks.find(({ landmarks }) => landmarks.includes('saddle'));
      expect(neck).toMatchObject({ owner: 'on the line', firm: true });
      expect(away(neck!.at, place.SADDLE)).toBeLessThan(120);
    });

    test('trap: the neck at the inside corner hangs on an assumption, and is not called firm', () => {
      const neck = artifacts.necks.find(({ landmarks }) => landmarks.includes('inside corner'));
      expect(neck).toMatchObject({ firm: false, owner: 'inside' });
      expect(neck!.spread.low).toBeLessThan(0.5 * neck!.share);
      expect(neck!.reasons.join(' ')).toMatch(/uncertain|assum/);
    });

    test('trap: it is gone when deer mind the tall railroad fence as little as they may', () => {
      const { low } = artifacts.assumptions.find(({ key }) => key === 'fence')!;
      const bold = { ...settings, weights: { fence: low }, travel: { ...settings.travel, runs: 1 } };
      const { necks } = runSteps(artifacts, bold, (name) => /^travel\.(?!plan)/.test(name));
      expect(necks.some(({ landmarks }) => landmarks.includes('underpass'))).toBe(true);
      expect(necks.some(({ landmarks }) => landmarks.includes('inside corner'))).toBe(false);
    });

    test('what is proposed is not there yet: the barricade crosses nothing', () => {
      expect(artifacts.crossings.filter(({ kind }) => kind === 'barricade')).toEqual([]);
    });

    test('trap: the proposed barricade is refused, because deer walk round both its open ends', () => {
      const [check] = artifacts.planTravel.barricades;
      expect(check).toMatchObject({ feature: 'barricade-hillside', holds: false });
      expect(check!.cheapest).toMatch(/round/);
      expect(check!.detour).toBeLessThan(check!.crossing);
      for (const { gained } of check!.ends) expect(gained).toBeGreaterThan(0);
      const rows = pageOf(report, 'travel').tables.find(({ caption }) => /^Barricades/.test(caption))!.rows;
      expect(rows[0]!.slice(0, 2)).toEqual(['Felled tops on the open hillside', 'no']);
    });

    test('shares are shares, bands hold them, ranks run without a gap', () => {
      for (const [k, neck] of artifacts.necks.entries()) {
        expect(neck.rank).toBe(k + 1);
        expect(neck.share).toBeGreaterThan(0);
        expect(neck.share).toBeLessThanOrEqual(1);
        expect(neck.spread.low).toBeLessThanOrEqual(neck.share);
        expect(neck.spread.high).toBeGreaterThanOrEqual(neck.share);
      }
      expect(artifacts.corridors.reduce((sum, { share }) => sum + share, 0)).toBeCloseTo(1, 6);
    });
  });

  describe('air and stands', () => {
    const risk = (id: string) => artifacts.standRisks.find(({ subject }) => subject.id === id)!;

    test('cold air stands behind the railroad fill and not under the bridge', () => {
      const depth = (spot: XY): number =>
        artifacts.poolDepth.cells[cellAt(artifacts.poolDepth.frame, ...onMap(spot))]!;
      for (const hollow of [place.HOLLOWS[0]!, place.HOLLOWS[2]!]) {
        const [mouth, above] = [hollow[0]!, hollow[1]!];
        // Between the mouth and the first bend, just above the fill.
        const along = [0.4, 0.5, 0.6, 0.7].map(
          (t): XY => [mouth[0] + t * (above[0] - mouth[0]), mouth[1] + t * (above[1] - mouth[1])],
        );
        expect(Math.max(...along.map(depth))).toBeGreaterThan(1.5);
      }
      expect(depth(place.UNDERPASS)).toBeLessThan(0.5);
    });

    test('the stand behind the fill is drowned; the others are not', () => {
      expect(risk('stand-fill')).toMatchObject({ inPool: true, level: 'high' });
      expect(risk('stand-saddle').inPool).toBe(false);
      expect(risk('stand-bench').inPool).toBe(false);
    });

    test('the bench stand’s scent runs down the hollow to the travel below', () => {
      const { meets, level } = risk('stand-bench');
      expect(level).not.toBe('low');
      expect(meets.length).toBeGreaterThan(0);
    });
  });

  describe('report', () => {
    test('says first that the property is invented', () => {
      expect(report.property.invented).toBe(true);
      expect(pageOf(report, 'overview').paragraphs[0]).toMatch(/invented/);
    });

    test('gives the farm in acres and the best neck in yards', () => {
      const text = pageOf(report, 'overview').paragraphs.join(' ');
      // The ring's own area over the acre of NIST SP 811; the grid's scale may differ by a thousandth.
      expect(text).toContain(`${Math.round(place.OWNED_AREA / 4046.8564224)} acres`);
      expect(text).toMatch(/neck 1, at [^:]*underpass[^:]*: \d+ yd wide/);
      expect(text).toContain('Fill stand');
    });

    test('wind table: five years, the south-west quarter leads', () => {
      const rose = pageOf(report, 'air').tables.find(({ caption }) => /wind blows from/.test(caption))!;
      const hours = new Map(rose.rows.map(([from, n]) => [from, Number(n!.replaceAll(',', ''))]));
      const sum = (...names: string[]): number => names.reduce((n, name) => n + hours.get(name)!, 0);
      expect(sum('SSW', 'SW', 'WSW')).toBeGreaterThan(sum('NNE', 'NE', 'ENE') * 3);
      expect(hours.get('calm')).toBeGreaterThan(2000);
    });
  });
});

describe('the real raster: 3 arc-seconds, no photo, no boundary', () => {
  let artifacts: Artifacts;
  let report: ReportModel;
  beforeAll(async () => {
    ({ artifacts, report } = await runJob(REAL));
  }, 120_000);

  test('lies on a metric grid of about its own cells', () => {
    const { frame } = artifacts.elevation;
    // 84.2° W is in UTM zone 16 (EPSG registry).
    expect(frame.epsg).toBe(32616);
    expect(frame.cellSize).toBeGreaterThan(60);
    expect(frame.cellSize).toBeLessThan(110);
  });

  test('says what such coarse cells cannot show, page by page', () => {
    expect(artifacts.groundDoubts.join(' ')).toMatch(/cannot show a creek bed or a saddle/);
    expect(artifacts.travelDoubts.join(' ')).toMatch(/coarse/);
    expect(artifacts.airDoubts.join(' ')).toMatch(/not seen/);
    for (const topic of ['ground', 'travel', 'air'] as const)
      expect(pageOf(report, topic).doubts.length).toBeGreaterThan(0);
  });

  test('claims no bench, no measured narrow saddle, no firm level for any stand', () => {
    expect(artifacts.benches).toEqual([]);
    for (const { width } of artifacts.saddles) if (width !== null) expect(width).toBeGreaterThan(3 * 60);
    for (const { level } of artifacts.standRisks) expect(level).toBe('unknown');
  });

  test('without a photo, travel rests on terrain alone and says so', () => {
    expect(artifacts.coverSource).toBe('terrain alone');
    expect(pageOf(report, 'cover').paragraphs.join(' ')).toMatch(/terrain alone/);
    expect(artifacts.cover.cells.every((code) => code === 0)).toBe(true);
  });

  test('knows no owner, and says what each missing piece costs', () => {
    expect(report.property.ownedArea).toBeNull();
    for (const { owner } of artifacts.necks) expect(owner).toBe('unknown');
    const doubts = pageOf(report, 'overview').doubts.join(' ');
    for (const missing of [/boundary/i, /photo|land cover/i, /wind/i]) expect(doubts).toMatch(missing);
    expect(report.property.invented).toBe(false);
  });

  test('still drains: lines of several orders, all flowing down', () => {
    const orders = new Set(artifacts.drainageLines.map(({ order }) => order));
    expect(Math.max(...orders)).toBeGreaterThanOrEqual(4);
    for (const { drop } of artifacts.drainageLines) expect(drop).toBeGreaterThanOrEqual(0);
  });
});
