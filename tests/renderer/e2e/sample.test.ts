import { existsSync, mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { Point } from 'geojson';
import type { Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { Neck } from '../../../core/travel/types.ts';
import { root } from '../../../electron/host/places.ts';
import type {
  Answer,
  PropertySummary,
  RequestName,
  RequestParams,
  Service,
} from '../../../electron/service/contract.ts';
import { createService } from '../../../electron/service/service.ts';
import { seriousFindings } from '../support/axe.ts';
import { browserPath, dropFiles } from '../support/browser.ts';
import { frameTimes, frameWords, traceFrames } from '../support/frames.ts';
import { pixelOf, type Sitting, sit } from '../support/sitting.ts';

/**
 * The whole program on the invented sample: the window in a real Chromium, over the loopback host, on the real
 * service with its workers and its property file. The tests follow one sitting, in order.
 */

let folder: string;
let service: Service;
let sitting: Sitting;
let page: Page;

const ask = <N extends RequestName>(name: N, params: RequestParams<N>) =>
  service.handle(name, params, null) as Promise<Answer<N>>;
const summary = async (): Promise<PropertySummary> => (await ask('property.summary', {}))!;
/** The README's picture, written when HOLLOWGATE_SHOTS names the folder for it. */
async function picture(path: string): Promise<void> {
  // Tiles and the notice of the finished scout have come and gone by then.
  await page.waitForTimeout(9000);
  await page.screenshot({ path });
}
const stage = (name: string) => page.click(`.stage:has-text("${name}")`);
const scouted = () => page.waitForSelector('button:has-text("Scout again")', { timeout: 120_000 });

describe.skipIf(browserPath === null)('a sitting on the sample', { timeout: 180_000 }, () => {
  let began = 0;
  beforeAll(async () => {
    folder = mkdtempSync(join(tmpdir(), 'window-'));
    began = performance.now();
    const making = createService({ dataFolder: folder, host: 'loopback', version: '0', openSample: true });
    sitting = await sit(making);
    service = await making;
    page = sitting.page;
  });
  afterAll(async () => {
    await sitting?.end();
    await service?.close();
    rmSync(folder, { recursive: true, force: true });
  });

  it('answers input within 100 ms while the sample is scouted, and shows how far it is', async () => {
    await page.getByRole('progressbar').waitFor({ timeout: 60_000 });
    await page.evaluate(() => {
      const spans: number[] = [];
      Object.assign(window, { spans });
      new PerformanceObserver((list) => {
        for (const entry of list.getEntries() as PerformanceEventTiming[])
          if (entry.interactionId !== 0) spans.push(entry.processingEnd - entry.startTime);
      }).observe({ type: 'event', durationThreshold: 16, buffered: true } as PerformanceObserverInit);
    });
    await traceFrames(page);
    let turns = 0;
    while ((await page.getByRole('progressbar').count()) > 0) {
      await stage(['Ground', 'Cover', 'Travel', 'Air'][turns % 4]!);
      await page.mouse.move(500 + (turns % 7) * 30, 400);
      await page.mouse.down();
      await page.mouse.move(560 + (turns % 7) * 30, 440, { steps: 6 });
      await page.mouse.up();
      turns += 1;
      await page.waitForTimeout(100);
    }
    await scouted();
    await stage('Travel');
    await page.waitForSelector('.findings > li');
    const seconds = (performance.now() - began) / 1000;
    console.log(`first ranked necks after ${seconds.toFixed(0)} s`);
    // What the first run is held to, from the start of the program and without reading anything.
    expect(seconds).toBeLessThan(120);
    const spans = await page.evaluate(() =>
      (window as never as { spans: number[] }).spans.toSorted((a, b) => a - b),
    );
    const frames = await frameTimes(page);
    console.log(`frames while scouting and dragging the map: ${frameWords(frames)}`);
    // Sixty frames a second leave 16.7 ms for each; both cores are at work on the scout meanwhile.
    expect(frames[Math.floor(frames.length / 2)]).toBeLessThan(25);
    expect(frames[Math.floor(frames.length * 0.95)]).toBeLessThan(100);
    const [most, slowest] = [spans[Math.floor(spans.length * 0.95)] ?? 0, spans.at(-1) ?? 0];
    console.log(
      `input while scouting: ${turns} turns, 95 of 100 in ${most.toFixed(0)} ms, slowest ${slowest.toFixed(0)} ms`,
    );
    expect(turns).toBeGreaterThan(5);
    // One in twenty may fall to whatever else the machine is doing; the slowest is printed, and none may hang.
    expect(most).toBeLessThan(100);
    expect(slowest).toBeLessThan(1500);
  });

  it('lists the service’s own necks in order of rank, and opens the reasons of one', async () => {
    const rows = (await ask('map.table', { table: 'necks' })).features.map((f) => f.properties as Neck);
    expect(rows.length).toBeGreaterThan(0);
    await stage('Travel');
    await expect.poll(() => page.locator('.findings > li').count()).toBe(rows.length);
    const flags = await page.locator('.findings .flag').allTextContents();
    expect(flags).toEqual(rows.map((row) => String(row.rank)));
    if (process.env.HOLLOWGATE_SHOTS) await picture(join(process.env.HOLLOWGATE_SHOTS, 'window.png'));
    await page.click(`[data-finding="${rows[0]!.id}"]`);
    const detail = page.locator('.detail');
    await detail.waitFor();
    const text = await detail.textContent();
    for (const reason of rows[0]!.reasons) expect(text).toContain(reason);
    // The map is where the neck is.
    const near = async () => {
      const kept = await page.evaluate(() => JSON.parse(localStorage.getItem('hollowgate.view') ?? 'null'));
      const [x, y] = rows[0]!.at;
      return kept && Math.hypot(kept.centre[0] - x, kept.centre[1] - y) < 400 * kept.resolution;
    };
    await expect.poll(near).toBe(true);
    await page.keyboard.press('Escape');
  });

  it('answers what drains to a place and how far one sees, on the real ground', async () => {
    await stage('Ground');
    await page.click('[role=tab]:has-text("Ask")');
    await page.click('.draw-kind:has-text("What drains here")');
    await page.focus('.map');
    await page.keyboard.press('Space');
    const answer = page.locator('.answer .para');
    await expect.poll(() => answer.textContent(), { timeout: 30_000 }).toContain('drain to this spot');
    await page.click('.draw-kind:has-text("What is seen from here")');
    await page.focus('.map');
    await page.keyboard.press('Space');
    await page.waitForSelector('.layer:has-text("View over bare ground")', { timeout: 30_000 });
    await page.click('.answer button:has-text("Take off the map")');
    await page.click('[role=tab]:has-text("Water")');
    const chosen = (await ask('ground.drainage', {}))!;
    await expect.poll(() => page.textContent('.page')).toContain(chosen.sentence);
    await page.click('[role=tab]:has-text("Forms")');
  });

  it('compares travel before and after what the sample proposes', async () => {
    await stage('Travel');
    await page.click('[role=tab]:has-text("What if")');
    await page.click('button:has-text("Compare before and after")');
    await page.waitForSelector('.answer table', { timeout: 60_000 });
    const compared = await ask('travel.whatIf', { trial: [], spot: null });
    const told = await page.textContent('.answer');
    for (const line of compared.sentences) expect(told).toContain(line);
    for (const { name, holds } of compared.barricades) {
      expect(told).toContain(name);
      expect(told).toContain(holds ? 'It holds.' : 'It does not hold.');
    }
    await page.click('[role=tab]:has-text("Necks")');
  });

  it('says for every stand what the night air does to it, with its reasons', async () => {
    await stage('Stands');
    const risks = (await ask('map.table', { table: 'stand-risks' })).features;
    await expect.poll(() => page.locator('.findings > li').count()).toBe(risks.length);
    const page1 = await page.textContent('.page');
    for (const risk of risks) expect(page1).toContain(risk.properties!.verdict);
    expect(page1).toContain('no shot is safe for that');
    await page.keyboard.press('3');
  });

  it('puts a dragged stand back where it was on undo', async () => {
    await stage('Work');
    await page.click('.finding:has-text("Saddle stand")');
    await page.waitForSelector('.detail-head:has-text("Saddle stand")');
    const at = (await ask('map.table', { table: 'features' })).features.find(
      (f) => f.properties!.name === 'Saddle stand',
    )!.geometry as Point;
    await page.waitForTimeout(300);
    const from = await pixelOf(page, at.coordinates as [number, number]);
    await page.mouse.move(from.x, from.y);
    await page.mouse.down();
    await page.mouse.move(from.x - 60, from.y + 40, { steps: 5 });
    await page.mouse.up();
    const undo = page.locator('.masthead button:has-text("Undo")');
    await expect.poll(() => undo.isEnabled()).toBe(true);
    await page.keyboard.press('Escape');
    await undo.click();
    await expect.poll(async () => (await summary()).canUndo).toBe(false);
    await page.waitForTimeout(300);
    await page.mouse.click(from.x, from.y);
    await page.waitForSelector('.detail-head:has-text("Saddle stand")');
    await page.keyboard.press('Escape');
  });

  it('takes a drawn boundary, and undo brings the old one back', async () => {
    const before = await summary();
    await stage('Work');
    await page.click('.draw-kind:has-text("Stand")');
    const box = (await page.locator('.map').boundingBox())!;
    await page.mouse.click(box.x + 400, box.y + 500);
    await page.waitForSelector('.feature-form');
    const count = (s: PropertySummary) => s.tables.find((t) => t.name === 'features')!.count;
    expect(count(await summary())).toBe(count(before) + 1);
    await page.fill('.feature-form [name=name]', 'Trial stand');
    await page.click('.feature-form button:has-text("Save")');
    await page.waitForSelector('.detail-head:has-text("Trial stand")');
    await page.keyboard.press('Escape');
    await page.click('.masthead button:has-text("Undo")');
    await page.click('.masthead button:has-text("Undo")');
    await expect.poll(async () => count(await summary())).toBe(count(before));
    await page.click('.draw-kind:has-text("Boundary")');
    for (const [dx, dy] of [
      [300, 300],
      [520, 310],
      [510, 560],
      [300, 540],
    ])
      await page.mouse.click(box.x + dx!, box.y + dy!);
    await page.click('.draw-bar button:has-text("Finish")');
    await page.waitForSelector('.feature-form');
    expect((await summary()).ownedArea).not.toBe(before.ownedArea);
    await page.keyboard.press('Escape');
    await page.click('.masthead button:has-text("Undo")');
    await expect.poll(async () => (await summary()).ownedArea).toBe(before.ownedArea);
  });

  it('refuses a wrong file in plain words and keeps the property', async () => {
    await dropFiles(page, [{ name: 'notes.tif', text: 'bring the big saw' }]);
    await page.click('dialog button:has-text("Start a new property")');
    const trouble = page.locator('.trouble');
    await trouble.waitFor();
    const text = await trouble.textContent();
    expect(text).toContain('notes.tif');
    expect(text).not.toMatch(/undefined|Error:|at \w+ \(/);
    await trouble.locator('button').click();
    expect((await summary()).invented).toBe(true);
  });

  it('measures a line over the real ground and looks at the property from an angle', async () => {
    await stage('Ground');
    await page.click('.zoom button:has-text("Show the whole property")');
    await page.waitForTimeout(300);
    const box = (await page.locator('.map').boundingBox())!;
    await page.click('button:has-text("Measure")');
    const [x1, y1, x2, y2] = [box.x + 220, box.y + 560, box.x + 470, box.y + 640];
    await page.mouse.click(x1, y1);
    await page.waitForTimeout(350);
    await page.mouse.dblclick(x2, y2);
    await page.waitForSelector('.line-profile');
    const { resolution } = await page.evaluate(() => JSON.parse(localStorage.getItem('hollowgate.view')!));
    // Pythagoras on the screen, in yards of the ground.
    const yards = Math.round((Math.hypot(x2 - x1, y2 - y1) * resolution) / 0.9144);
    const said = Number(/^(\d+) yd/.exec((await page.textContent('.measure-main'))!)![1]);
    expect(Math.abs(said - yards)).toBeLessThanOrEqual(2);
    await page.locator('.along').fill('200');
    expect(await page.textContent('.line-profile figcaption')).toMatch(/yd along: \d+ ft, ground \d+° steep/);
    await page.keyboard.press('Escape');
    await page.click('button:has-text("Look at the ground from an angle")');
    await page.waitForSelector('.relief-wait', { state: 'detached' });
    const ground = () =>
      page.evaluate(() => {
        const canvas = document.querySelector<HTMLCanvasElement>('.relief canvas')!;
        const { data } = canvas.getContext('2d')!.getImageData(0, 0, canvas.width, canvas.height);
        const pixels = new Uint32Array(data.buffer);
        return pixels.filter((pixel) => pixel !== 0).length / pixels.length;
      });
    await expect.poll(ground).toBeGreaterThan(0.3);
    expect(await seriousFindings(page)).toEqual([]);
    await page.click('button:has-text("Back to the map")');
  });

  it('keeps a second plan and compares the two on the map', async () => {
    await stage('Travel');
    await page.click('[role=tab]:has-text("Plans")');
    await page.click('button:has-text("New, empty plan")');
    await page.waitForSelector('.plan:has-text("Plan 2")');
    await page.click('button:has-text("Compare the plans")');
    await page.waitForSelector('[aria-label="Two plans side by side"] table', { timeout: 60_000 });
    const rows = (await ask('map.table', { table: 'necks' })).features.length;
    expect(
      await page.locator('[aria-label="Two plans side by side"] tbody tr').count(),
    ).toBeGreaterThanOrEqual(rows);
    await page.getByRole('slider', { name: /Divider between/ }).waitFor();
    await page.click('.masthead button:has-text("Undo")');
    await expect.poll(() => page.locator('.plan').count()).toBe(1);
    await page.click('[role=tab]:has-text("Necks")');
  });

  it('scouts again with a changed assumption and says which is changed', async () => {
    await stage('Travel');
    await page.click('[role=tab]:has-text("Assumptions")');
    const first = (await ask('travel.assumptions', {}))[0]!;
    await page.fill('#assumption-sought', first.label);
    await page.fill(`[id="weight-${first.key}"]`, String(first.high));
    await page.keyboard.press('Enter');
    await page.waitForSelector('.assumption.changed');
    await scouted();
    await page.waitForSelector('.moved');
    expect((await ask('travel.assumptions', {}))[0]).toMatchObject({ value: first.high, changed: true });
    await page.click('button:has-text("Put back")');
    await page.waitForSelector('.assumption.changed', { state: 'detached' });
    await scouted();
  });

  it('exports everything to files that are there', async () => {
    await stage('Report');
    await page.click('button:has-text("Export everything")');
    await page.waitForSelector('.written', { timeout: 60_000 });
    const where = (await page.textContent('.written code'))!;
    const files = await page.locator('.written li').allTextContents();
    expect(files.some((file) => file.endsWith('report.pdf'))).toBe(true);
    for (const file of files) expect(existsSync(join(where, file)) || existsSync(file), file).toBe(true);
  });

  it('goes on after a reload, on the same stage, without a new token', async () => {
    await stage('Air');
    expect(page.url()).not.toContain('#t=');
    await page.reload();
    await page.waitForSelector('.stage[aria-current]:has-text("Air")');
    await page.click('[role=tab]:has-text("Night")');
    await page.waitForSelector('.findings, .empty');
  });

  it('gives axe nothing serious to find on any stage', async () => {
    const found: string[] = [];
    for (const name of ['Ground', 'Cover', 'Travel', 'Air', 'Stands', 'Work', 'Report']) {
      await stage(name);
      await page.waitForTimeout(150);
      for (const line of await seriousFindings(page)) found.push(`${name}: ${line}`);
    }
    expect(found).toEqual([]);
  });

  it('makes a property of a dropped raster, and adds a dropped boundary to it', async () => {
    const raster = readFileSync(join(root, 'sample-rasters', 'ridge-and-valley-srtm3.tif'));
    await dropFiles(page, [{ name: 'elevation.tif', bytes: raster }]);
    await page.click('dialog button:has-text("Start a new property")');
    await page.waitForSelector('.property:has-text("elevation")', { timeout: 60_000 });
    await page.waitForSelector('.invented', { state: 'detached' });
    const opened = await summary();
    expect(opened.frame.cellSize).toBeGreaterThan(50);
    expect(opened.ownedArea).toBeNull();
    await stage('Ground');
    await expect
      .poll(() => page.textContent('.page'), { timeout: 60_000 })
      .toContain('cannot show a creek bed');
    const { longitude: x, latitude: y } = opened.frame;
    const ring = [
      [x - 0.02, y - 0.02],
      [x + 0.02, y - 0.02],
      [x + 0.02, y + 0.02],
      [x - 0.02, y + 0.02],
      [x - 0.02, y - 0.02],
    ];
    const boundary = { type: 'Polygon', coordinates: [ring] };
    await dropFiles(page, [{ name: 'boundary.geojson', text: JSON.stringify(boundary) }]);
    await page.click('dialog button:has-text("Add to elevation")');
    await expect.poll(async () => (await summary()).ownedArea, { timeout: 30_000 }).not.toBeNull();
    // 0.04 degrees of latitude are 4.44 km, of longitude that times the cosine of the latitude.
    const expected = 4441 * 4452 * Math.cos((y * Math.PI) / 180);
    expect((await summary()).ownedArea! / expected).toBeCloseTo(1, 1);
    await page.waitForSelector('.layer:has-text("Boundary")');
  });

  it('said nothing on the console all the while', () => {
    expect(sitting.errors).toEqual([]);
  });
});
