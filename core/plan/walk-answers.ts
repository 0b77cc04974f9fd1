import type { Position } from 'geojson';
import type { AttributeValue, Feature } from '../features/feature.ts';
import type { Point } from '../grid/frame.ts';
import type { Crossing } from '../travel/types.ts';
import { dayGiven } from './brought.ts';
import type { WalkChoice, WalkSpot } from './types.ts';
import { placeOf, stopMeant } from './walk-match.ts';

/** What was seen at a stop is taken for the ground so far about it, m: our assumption. */
const SEEN_ABOUT = 20;
const SIDES = 16;

const COVER: WalkChoice[] = [
  {
    key: 'brush',
    title: 'thick from knee to chest',
    sets: { kind: 'truth', value: 'brush', about: SEEN_ABOUT },
  },
  {
    key: 'woods',
    title: 'woods a deer is seen in',
    sets: { kind: 'truth', value: 'deciduous', about: SEEN_ABOUT },
  },
  {
    key: 'evergreen',
    title: 'evergreens to the ground',
    sets: { kind: 'truth', value: 'evergreen', about: SEEN_ABOUT },
  },
  { key: 'open', title: 'open ground', sets: { kind: 'truth', value: 'open', about: SEEN_ABOUT } },
];

const gap = (type: string): WalkChoice => ({
  key: 'open',
  title: 'easy to pass here',
  sets: { kind: 'gap', value: type },
});
const CLOSED: WalkChoice = { key: 'closed', title: 'no sign that deer pass', sets: null };

/** What can be found at a crossing; where a gap there counts, it is put on the map. */
const AT_CROSSING: Record<Crossing['kind'], WalkChoice[]> = {
  fence: [gap('lowered'), CLOSED],
  creek: [gap('ford'), CLOSED],
  railroad: [gap('underpass'), CLOSED],
  barricade: [gap('lowered'), CLOSED],
  road: [{ key: 'open', title: 'tracks on both sides', sets: null }, CLOSED],
  'ownership line': [{ key: 'open', title: 'deer pass', sets: null }, CLOSED],
};

export const CHOICES = {
  cover: COVER,
  crossing: (kind: Crossing['kind']): WalkChoice[] => AT_CROSSING[kind],
  bedding: [
    { key: 'beds', title: 'beds or hair found', sets: null },
    { key: 'none', title: 'no sign of bedding', sets: null },
  ],
  end: [
    { key: 'holds', title: 'the end can be tied to something', sets: null },
    { key: 'open', title: 'nothing to tie the end to', sets: null },
  ],
  air: [
    { key: 'clean', title: 'the powder goes where it should', sets: null },
    { key: 'bad', title: 'the powder goes to the deer', sets: null },
  ],
} satisfies Record<string, unknown>;

/**
 * Ids of what an answer puts on the map. A later scout may give the stop's id to another place, so the place is in it;
 * answering again takes the place of the answer before.
 */
const noteId = ({ id, at, found }: WalkSpot): string =>
  found?.note ?? `found-${id}-${Math.round(at[0])}-${Math.round(at[1])}`;
const setId = (spot: WalkSpot): string => `seen-${noteId(spot).replace(/^found-/, '')}`;

/** What an answer to a stop puts on the map, and what an earlier answer put there that no longer holds. */
export interface WalkEdit {
  puts: Feature[];
  removes: string[];
}

/**
 * An answer as a note at the stop (`stop` its id, `answer` the choice's key, `text` as typed) and, where the choice
 * sets something, as what it sets: a gap in the line that is crossed, or the cover as it was seen in a circle about
 * the stop. Answering again takes the place of the answer before.
 *
 * @param at where it was found; the stop's own place when left out
 * @param source the file it came from, or `drawn`
 */
export function answered(
  spot: WalkSpot,
  choice: WalkChoice | null,
  text: string,
  date: string,
  at: Point = spot.at,
  source = 'drawn',
): WalkEdit {
  const words = [choice?.title, text.trim()].filter(Boolean).join(': ');
  const feature = (
    id: string,
    kind: Feature['kind'],
    geometry: Feature['geometry'],
    attributes: Record<string, AttributeValue>,
  ): Feature => ({ id, kind, status: 'existing', name: spot.title, geometry, attributes, source });
  const point: Feature['geometry'] = { type: 'Point', coordinates: at };
  const note = feature(noteId(spot), 'note', point, {
    text: words,
    stop: spot.id,
    ...(choice ? { answer: choice.key } : {}),
    date,
  });
  const sets = choice?.sets;
  if (!sets) return { puts: [note], removes: [setId(spot)] };
  const seen =
    sets.kind === 'gap'
      ? // A gap counts on the line itself, which is where the stop lies.
        feature(setId(spot), 'gap', { type: 'Point', coordinates: spot.at }, { type: sets.value })
      : feature(setId(spot), 'truth', circle(at, sets.about), { cover: sets.value });
  return { puts: [note, seen], removes: [] };
}

function circle([x, y]: Point, radius: number): Feature['geometry'] {
  const ring = Array.from({ length: SIDES + 1 }, (_, k): Position => {
    const turn = ((k % SIDES) / SIDES) * 2 * Math.PI;
    return [x + radius * Math.sin(turn), y + radius * Math.cos(turn)];
  });
  return { type: 'Polygon', coordinates: [ring] };
}

/**
 * Points brought back under the names the stops went out with (`3. Crossing of the creek`, with or without the
 * number) are answers to the nearest stop of that kind: ranks and numbers change from scout to scout, places do not. A
 * description that begins with the key or words of a choice makes that choice, the rest is what was seen. A point whose
 * description is as it went out says nothing and is left out.
 */
export function answersBrought(
  spots: readonly WalkSpot[],
  brought: readonly Feature[],
  today: string,
): WalkEdit & { rest: Feature[] } {
  const edit: WalkEdit & { rest: Feature[] } = { puts: [], removes: [], rest: [] };
  for (const feature of brought) {
    const { geometry, attributes } = feature;
    const spot = geometry.type === 'Point' ? stopMeant(spots, feature.name ?? '', placeOf(feature)) : null;
    if (!spot) {
      edit.rest.push(feature);
      continue;
    }
    const said = [attributes.cmt, attributes.desc, attributes.description, attributes.text].find(
      (words): words is string =>
        typeof words === 'string' && words.trim() !== '' && !words.startsWith(spot.why),
    );
    if (said === undefined) continue;
    const choice =
      spot.choices.find(({ key, title }) => startsWith(said, key) || startsWith(said, title)) ?? null;
    const words = choice ? [choice.title, choice.key].find((start) => startsWith(said, start))! : '';
    const date = dayGiven(attributes.time) ?? today;
    const text = said
      .trim()
      .slice(words.length)
      .replace(/^[\s,.:;-]+/, '');
    const one = answered(spot, choice, text, date, placeOf(feature), feature.source);
    edit.puts.push(...one.puts);
    edit.removes.push(...one.removes);
  }
  return edit;
}

/** Whether a text begins with whole words. */
const startsWith = (text: string, words: string): boolean =>
  new RegExp(`^\\s*${words}(?![a-z])`, 'i').test(text);
