import { withBrief } from '../../../core/analysis/brief-defaults.ts';
import { laidOver, overDefaults, type Settings } from '../../../core/analysis/settings.ts';
import type { Feature } from '../../../core/features/feature.ts';
import { EMPTY_BRIEF } from '../../../core/plan/brief.ts';
import { DEFAULT_HUNT } from '../../../core/stands/hunt-settings.ts';
import { DEFAULT_STANDS } from '../../../core/stands/settings.ts';
import type {
  Connection,
  PropertySummary,
  ServiceEvent,
  Trouble,
} from '../../../electron/service/contract.ts';
import { airAnswers } from './air-answers.ts';
import { draftAnswers } from './draft-answers.ts';
import { elevation, FRAME, firstFeatures, TABLE_ROWS } from './ground.ts';
import { groundAnswers } from './ground-answers.ts';
import { handAnswers } from './hand-answers.ts';
import { mapAnswers } from './map-answers.ts';
import { pictureAnswers } from './picture-answers.ts';
import { planAnswers } from './plan-answers.ts';
import { searchAnswers } from './search-answers.ts';
import { shelfAnswers } from './shelf-answers.ts';
import { standsAnswers } from './stands-answers.ts';
import { travelAnswers } from './travel-answers.ts';
import { whenAnswers } from './when-answers.ts';
import { workAnswers } from './work-answers.ts';

/**
 * A connection that answers from memory, put where Electron's preload would put the real one. It keeps edits, undo
 * and settings, and refuses what a test tells it to, so that the window itself can be tested alone.
 */

type Row = ReturnType<typeof firstFeatures>['features'][number];

const handlers = new Set<(event: ServiceEvent) => void>();
const log: { name: string; params: unknown; bytes: number }[] = [];
let refuse: Record<string, Trouble> = {};
let open = true;
let edits = 0;
let features: Row[] = firstFeatures().features;
const past: Row[][] = [];
let future: Row[][] = [];
let settings: Record<string, unknown> = {
  units: 'us',
  weights: {},
  hunt: DEFAULT_HUNT,
  stands: DEFAULT_STANDS,
  brief: EMPTY_BRIEF,
};
let staged: string[] = [];
/** Requests that stay under way until they are taken back. */
const held = new Map<string, () => void>();

function summary(): PropertySummary {
  return {
    name: 'Fake hollow',
    invented: true,
    units: settings.units as 'us',
    frame: FRAME,
    ownedArea: 2_300_000,
    importNotes: ['The elevation is in metres, as its file says.'],
    missing: ['No wind record: hours a stand can be sat are not counted.'],
    doubts: {
      ground: ['Cells of 6 m cannot show a creek bed narrower than that.'],
      cover: ['A photo from above does not show what hides a deer.'],
      travel: ['How much a deer minds open ground is our assumption.'],
      air: ['Only a clear, calm night is drawn.'],
    },
    coverSource: 'imagery',
    layers: [
      'shade',
      'imagery',
      'slope',
      'water-work',
      'cover',
      'resistance',
      'passage',
      'cold-air',
      'pools',
    ].map((name) => ({
      name,
      key: 'one',
    })),
    tables: ['features', ...Object.keys(TABLE_ROWS)].map((name) => ({
      name,
      key: name === 'features' ? `edit ${edits}` : 'one',
      count: name === 'features' ? features.length : TABLE_ROWS[name]!().features.length,
    })),
    wind: { key: 'wind/1', station: 'an invented station', hours: 43_800 },
    canUndo: past.length > 0,
    canRedo: future.length > 0,
    settings,
  };
}

function edit(next: Row[]): PropertySummary {
  past.push(features);
  future = [];
  features = next;
  edits += 1;
  return summary();
}

function step(from: Row[][], to: Row[][]): PropertySummary {
  const next = from.pop();
  if (next) {
    to.push(features);
    features = next;
    edits += 1;
  }
  return summary();
}

const asRow = ({ id, geometry, ...rest }: Feature): Row => ({
  type: 'Feature',
  id,
  geometry,
  properties: { id, ...rest },
});

async function tile(layer: string, z: number, x: number, y: number): Promise<Uint8Array> {
  const canvas = new OffscreenCanvas(256, 256);
  const pen = canvas.getContext('2d')!;
  const image = pen.createImageData(256, 256);
  const step = FRAME.width / 256 / 2 ** z;
  for (let j = 0; j < 256; j++)
    for (let i = 0; i < 256; i++) {
      const c = (x * 256 + i + 0.5) * step;
      const r = (y * 256 + j + 0.5) * step;
      if (c >= FRAME.width || r >= FRAME.height) continue;
      const dx = elevation(c + 0.5, r) - elevation(c - 0.5, r);
      const dy = elevation(c, r + 0.5) - elevation(c, r - 0.5);
      const grey = 190 + 16 * (dx + dy);
      const [red, green, blue, alpha] =
        layer === 'shade'
          ? [grey, grey, grey, 255]
          : /^(first|second)-/.test(layer)
            ? layer.startsWith('first')
              ? [250, 0, 0, 255]
              : [0, 0, 250, 255]
            : layer === 'cover'
              ? dy > 0.4
                ? [116, 173, 105, 255]
                : [239, 226, 166, 255]
              : layer === 'cold-air'
                ? [20, 90, 160, Math.max(0, 240 - elevation(c, r)) * 6]
                : [190, 80, 20, Math.max(0, 120 - Math.abs(c - 220) * 1.5)];
      image.data.set([red!, green!, blue!, alpha!], (j * 256 + i) * 4);
    }
  pen.putImageData(image, 0, 0);
  return new Uint8Array(await (await canvas.convertToBlob()).arrayBuffer());
}

const answers: Record<string, (params: never, bytes: number) => unknown> = {
  'host.describe': () => ({ host: 'electron', version: '0', canPick: true }),
  'property.summary': () => (open ? summary() : null),
  'property.openSample': () => {
    open = true;
    return summary();
  },
  'property.open': () => summary(),
  'property.pick': () => null,
  'settings.change': ({ patch: changed }: { patch: Record<string, unknown> }) => {
    const usual = overDefaults(settings) as unknown as Settings;
    const patch = withBrief(usual, changed);
    settings = {
      ...settings,
      ...patch,
      travel: { ...(settings.travel as object), ...(patch.travel as object) },
      hunt: laidOver(settings.hunt as object, (patch.hunt as object | undefined) ?? {}),
      stands: laidOver(settings.stands as object, (patch.stands as object | undefined) ?? {}),
      plan: laidOver(usual.plan, (patch.plan as object | undefined) ?? {}),
      brief: laidOver(settings.brief as object, (patch.brief as object | undefined) ?? {}),
    };
    return summary();
  },
  'travel.takeFit': () => {
    settings = { ...settings, travel: { ...(settings.travel as object), set: 'fitted' } };
    return summary();
  },
  'features.put': ({ feature }: { feature: Feature }) => {
    const rest = features.filter((row) => row.id !== feature.id);
    return edit([...rest, asRow(feature)]);
  },
  'features.putAll': ({ features: put }: { features: Feature[] }) => {
    const rest = features.filter((row) => put.every(({ id }) => id !== row.id));
    return edit([...rest, ...put.map(asRow)]);
  },
  'features.remove': ({ id }: { id: string }) => edit(features.filter((row) => row.id !== id)),
  'cover.paint': ({ path, cover }: { path: [number, number][]; cover: string }) => {
    const [[x, y], end] = [path[0]!, path.at(-1)!];
    const ring = [
      [x - 9, y - 9],
      [end[0] + 9, end[1] - 9],
      [end[0] + 9, end[1] + 9],
      [x - 9, y - 9],
    ];
    return edit([
      ...features,
      asRow({
        id: `painted-${edits}`,
        kind: 'truth',
        status: 'existing',
        name: null,
        geometry: { type: 'Polygon', coordinates: [ring] },
        attributes: { cover },
        source: 'painted',
      }),
    ]);
  },
  'edit.undo': () => step(past, future),
  'edit.redo': () => step(future, past),
  'scout.start': () => ({ run: 'fake-run' }),
  'scout.cancel': () => ({ cancelled: true }),
  'map.tile': ({ layer, z, x, y }: { layer: string; z: number; x: number; y: number }) =>
    tile(layer, z, x, y),
  'map.table': ({ table }: { table: string }) =>
    table === 'features' ? { type: 'FeatureCollection', features } : TABLE_ROWS[table]!(),
  'map.reading': ({ x, y }: { x: number; y: number }) => [
    {
      label: 'Elevation',
      value: `${elevation((x - FRAME.west) / FRAME.cellSize, (FRAME.north - y) / FRAME.cellSize).toFixed(0)} m`,
    },
    { label: 'Slope', value: '12.4° (22 %)' },
  ],
  'map.legend': ({ layer }: { layer: string }) => ({
    title: layer,
    unit: layer === 'passage' ? 'share of travel' : '',
    entries: [
      { label: 'low', colour: '#efe2a6', pattern: 'dots' },
      { label: 'high', colour: '#be5014', pattern: 'rising' },
    ],
  }),
  'ask.cancel': ({ ask }: { ask: string }) => {
    const reject = held.get(ask);
    reject?.();
    return { cancelled: reject !== undefined };
  },
  ...mapAnswers,
  ...planAnswers,
  ...draftAnswers,
  'travel.assumptions': () => [
    {
      key: 'open',
      subject: 'Being seen in the open',
      ofSet: 6,
      usual: 5,
      label: 'Open ground by day',
      unit: '× easy ground',
      value: (settings.weights as Record<string, number | null>).open ?? 6,
      low: 3,
      high: 12,
      source: 'Our assumption.',
      changed: typeof (settings.weights as Record<string, number | null>).open === 'number',
    },
    {
      key: 'fence',
      subject: 'Fences and gates',
      ofSet: 25,
      usual: 25,
      label: 'Fence 1.2 m high',
      unit: 'metres of easy ground per crossing',
      value: 25,
      low: 10,
      high: 60,
      source: 'our assumption',
      changed: false,
    },
  ],
  'report.model': () => ({ version: 1, property: {}, made: '', units: 'us', pages: [] }),
  'export.all': () => ({ folder: 'Fake hollow export', files: ['report.pdf', 'necks.geojson'] }),
  ...groundAnswers(() => settings, tile),
  ...travelAnswers(() => settings),
  ...pictureAnswers(
    () => settings,
    (patch) => {
      settings = laidOver(settings, patch);
      return summary();
    },
  ),
  ...handAnswers,
  ...airAnswers,
  ...workAnswers(
    () => settings,
    () => features,
    () => summary(),
  ),
  ...standsAnswers,
  ...searchAnswers,
  ...whenAnswers,
  ...shelfAnswers,
  'import.begin': () => {
    staged = [];
    return { staging: 'staging' };
  },
  'import.file': ({ name }: { name: string }, bytes) => {
    staged.push(name);
    return { received: bytes };
  },
  'import.finish': () => {
    open = true;
    return summary();
  },
};

const connection: Connection = {
  async request(name, params, binary) {
    log.push({ name, params: structuredClone(params), bytes: binary?.length ?? 0 });
    const trouble = refuse[name];
    if (trouble) {
      // A question is settled by its answer.
      const given = (params as { answers?: Record<string, string> }).answers ?? {};
      if (!trouble.question || !(trouble.question.key in given)) return Promise.reject({ trouble });
    }
    if (held.has(name))
      await new Promise<void>((_, reject) => {
        held.set(name, () =>
          reject({
            trouble: { kind: 'cancelled', message: 'Taken back.', file: null, fix: '', question: null },
          }),
        );
      });
    return (await answers[name]!(params as never, binary?.length ?? 0)) as never;
  },
  listen(handler) {
    handlers.add(handler);
    return () => handlers.delete(handler);
  },
};

export const control = {
  log,
  staged: () => staged,
  emit: (event: ServiceEvent) => {
    for (const handler of handlers) handler(event);
  },
  refuse: (next: Record<string, Trouble>) => {
    refuse = next;
  },
  hold: (name: string) => {
    held.set(name, () => {});
  },
  /** Answers that name at once again. */
  letGo: (name: string) => {
    held.delete(name);
  },
  start: (state: { open: boolean }) => {
    open = state.open;
  },
};

Object.assign(window, { hollowgate: connection, fake: control });
