import { computed, effect, signal, untracked } from '@preact/signals';
import type { Feature } from 'geojson';
import type { RequestParams, SiteRow, StandRuling } from '../../electron/service/contract.ts';
import { putFeature } from './editing.ts';
import { inquiry } from './inquiry.ts';
import { summary } from './session.ts';
import { basis, standsLeaf } from './stands-asks.ts';
import { stage } from './view.ts';

/** Questions of where stands should go: side by side, what to do with each, and where new ones pay. */

export const compared = inquiry('stands.compare');
export const rulings = inquiry('stands.rulings');
export const search = inquiry('stands.search');
export const cameras = inquiry('stands.cameras');

const rules = computed(() => {
  const { hunt, stands, air, travel } = summary.value?.settings ?? {};
  return `${basis.value} ${JSON.stringify([hunt, stands, air, travel])}`;
});

effect(() => {
  void rules.value;
  untracked(() => {
    compared.outdate();
    rulings.outdate();
    cameras.outdate();
  });
});

export const searchForm = signal<RequestParams<'stands.search'>>({
  seat: 'any',
  weapon: 'bow',
  range: null,
  count: 4,
  plan: null,
});

/** What the last search was made from: it takes minutes, so it is kept when a site is used, and said to be old. */
const searchedOn = signal('');
export const searchIsOld = computed(() => search.answer.value !== null && searchedOn.value !== rules.value);

export function askSites(): void {
  searchedOn.value = rules.peek();
  void search.put(searchForm.peek());
}

/** Sites drawn as proposed stands since the search. */
export const usedSites = signal<ReadonlySet<string>>(new Set());
effect(() => {
  void search.answer.value;
  usedSites.value = new Set();
});

/** Draws a site as a proposed stand of the chosen plan. */
export async function useSite({ id, name, at, seat, seatHeight, weapon, range }: SiteRow): Promise<void> {
  const put = await putFeature(
    {
      id: `drawn-${crypto.randomUUID()}`,
      kind: 'stand',
      status: 'proposed',
      name,
      geometry: { type: 'Point', coordinates: [at[0], at[1]] },
      attributes: {
        seatHeight,
        weapon,
        range,
        ...(seat === 'tower' ? { structure: 'tower', towerHeight: seatHeight } : {}),
      },
      source: 'drawn',
    },
    'A stand is proposed there. Undo takes it back.',
  );
  if (put) usedSites.value = new Set([...usedSites.peek(), id]);
}

const leafOpen = (name: string) => stage.value === 'stands' && standsLeaf.value === name;

const mark = (draws: string, id: string, says: string, geometry: Feature['geometry']): Feature => ({
  type: 'Feature',
  id,
  geometry,
  properties: { draws, says },
});

const rulingMarks = ({ stand, change }: StandRuling): Feature[] => {
  if (!change) return [];
  const draws = { move: 'move', screen: 'planting', 'new way in': 'way', keep: 'lane', retire: 'lane' }[
    change.ruling
  ];
  const lines = change.lines.map((coordinates, k) =>
    mark(draws, `${stand.id}-line-${k}`, '', { type: 'LineString', coordinates }),
  );
  return change.at
    ? [...lines, mark('site', `${stand.id}-to`, '→', { type: 'Point', coordinates: [...change.at] })]
    : lines;
};

const siteMarks = computed((): Feature[] => {
  const found = search.answer.value;
  if (!found) return [];
  const place = (draws: string, { id, at, name }: SiteRow) =>
    mark(draws, id, name.replace('Site ', ''), { type: 'Point', coordinates: [...at] });
  return [
    ...found.passed.map(({ name, at }) =>
      mark('passed', `passed-${name}-${at.join()}`, name, { type: 'Point', coordinates: at }),
    ),
    ...found.ifWay.map((site) => place('ifway', site)),
    ...found.sites.map((site) => place('site', site)),
  ];
});

const cameraMarks = computed((): Feature[] =>
  (cameras.answer.value?.places ?? []).map(({ at }, k) =>
    mark('camera', `camera-${k}`, `C${k + 1}`, { type: 'Point', coordinates: [...at] }),
  ),
);

/** What the answers draw on the map. */
export const searchDrawn = computed((): Feature[] => {
  if (leafOpen('rulings')) return (rulings.answer.value?.rulings ?? []).flatMap(rulingMarks);
  if (!leafOpen('search')) return [];
  return [...siteMarks.value, ...cameraMarks.value];
});
