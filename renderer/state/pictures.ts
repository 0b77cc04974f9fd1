import { computed, effect, signal, untracked } from '@preact/signals';
import type { Point } from '../../core/grid/frame.ts';
import type { Pin, PinFitAnswer, PinnedPicture } from '../../electron/service/contract.ts';
import { aim, startAim, stopAim } from './aiming.ts';
import { changeSettings } from './editing.ts';
import { notice, propertyKey, report, summary, tell } from './session.ts';
import { flyTo, overlayChoice, selection } from './view.ts';

/** Scans and photos laid over the map by pins. */

export const pictures = computed(() => (summary.value?.settings.pictures ?? []) as readonly PinnedPicture[]);

/** The picture whose pins are set on the page, by its id. */
const pinningId = signal<string | null>(null);
export const pinning = computed(() => pictures.value.find(({ id }) => id === pinningId.value) ?? null);

/** A spot of the picture that waits for its spot on the map. */
export const waiting = signal<Point | null>(null);
/** The pin whose spot on the picture is set anew by the next click there. */
export const moving = signal<number | null>(null);

/** A picture as it is drawn; `scale` are its own pixels over those it is drawn from. */
export interface Drawn {
  bitmap: ImageBitmap;
  scale: number;
}

/** More pixels than these are not drawn: the picture is kept whole, and shown coarser. Our assumption. */
const MOST_DRAWN = 24e6;

const bitmaps = signal<ReadonlyMap<string, Drawn>>(new Map());
export const drawnOf = (id: string): Drawn | null => bitmaps.value.get(id) ?? null;

const asked = new Set<string>();
async function load({ id, name, width, height }: PinnedPicture): Promise<void> {
  asked.add(id);
  const bytes = await tell('notes.picture', { id });
  if (!bytes) return;
  const scale = Math.max(1, Math.sqrt((width * height) / MOST_DRAWN));
  try {
    const bitmap = await createImageBitmap(new Blob([Uint8Array.from(bytes)]), {
      resizeWidth: Math.round(width / scale),
      resizeHeight: Math.round(height / scale),
      resizeQuality: 'high',
    });
    if (asked.has(id))
      bitmaps.value = new Map(bitmaps.peek()).set(id, { bitmap, scale: width / bitmap.width });
  } catch {
    report({
      trouble: {
        kind: 'problem',
        message: `${name} cannot be shown: it is damaged inside.`,
        file: name,
        fix: 'Remove it under On the map, save it again as JPEG or PNG, and pin that.',
        question: null,
      },
    });
  }
}

/** How each picture lies on the map, by its pins. */
const fits = signal<ReadonlyMap<string, { pins: string; answer: PinFitAnswer }>>(new Map());
export const fitOf = (id: string): PinFitAnswer | null => fits.value.get(id)?.answer ?? null;

async function place({ id, pins }: PinnedPicture, key: string): Promise<void> {
  const answer = await tell('pictures.fit', { pins: [...pins] });
  const now = pictures.peek().find((picture) => picture.id === id);
  if (answer && now && keyOf(now) === key) fits.value = new Map(fits.peek()).set(id, { pins: key, answer });
}

const keyOf = ({ pins }: PinnedPicture): string => `${summary.peek()?.units} ${JSON.stringify(pins)}`;

const fitting = new Map<string, string>();
effect(() => {
  for (const picture of pictures.value) {
    const key = keyOf(picture);
    if (fitting.get(picture.id) !== key) {
      fitting.set(picture.id, key);
      void place(picture, key);
    }
    if (!asked.has(picture.id)) untracked(() => void load(picture));
  }
});
effect(() => {
  void propertyKey.value;
  asked.clear();
  fitting.clear();
  bitmaps.value = new Map();
  fits.value = new Map();
  pinningId.value = null;
});
// A spot of the picture waits only as long as the map is asked for its place.
effect(() => {
  if (!aim.value) waiting.value = null;
});

export const isPicture = ({ name }: { name: string }): boolean => /\.(jpe?g|png|tiff?)$/i.test(name);

/** Keeps a file as a picture and opens its pins. */
export async function pinPicture(name: string, staging: string): Promise<void> {
  const answer = await tell('pictures.keep', { staging, name });
  if (!answer) return;
  summary.value = answer.summary;
  notice.value = answer.note ?? `${name} is kept. Pin it where you know the spot on picture and map.`;
  openPins(answer.id);
}

export function openPins(id: string | null): void {
  stopAim();
  moving.value = null;
  selection.value = null;
  pinningId.value = id;
}

const put = (change: (picture: PinnedPicture) => PinnedPicture): Promise<void> =>
  changeSettings(
    { pictures: pictures.peek().map((each) => (each.id === pinningId.peek() ? change(each) : each)) },
    false,
  );

const putPins = (change: (pins: readonly Pin[]) => readonly Pin[]): Promise<void> =>
  put((picture) => ({ ...picture, pins: change(picture.pins) }));

const changed = (pin: number, by: Partial<Pin>): Promise<void> =>
  putPins((pins) => pins.map((each, k) => (k === pin ? { ...each, ...by } : each)));

/** A spot taken on the picture: a new pin that then asks for its place on the map, or a pin moved there. */
export function takeSpot(at: Point): void {
  const pin = moving.peek();
  moving.value = null;
  if (pin !== null) {
    void changed(pin, { at });
    return;
  }
  startAim({
    title: 'A pin',
    places: ['Click the same spot on the map.'],
    done: ([to]) => {
      stopAim();
      void putPins((pins) => [...pins, { at, to: to! }]);
    },
  });
  waiting.value = at;
}

export function moveOnMap(pin: number): void {
  moving.value = null;
  startAim({
    title: `Pin ${pin + 1}`,
    places: ['Click where it belongs on the map.'],
    done: ([to]) => {
      stopAim();
      void changed(pin, { to: to! });
    },
  });
}

export function moveOnPicture(pin: number): void {
  stopAim();
  moving.value = pin;
}

export const dropPin = (pin: number): Promise<void> => putPins((pins) => pins.filter((_, k) => k !== pin));

/** Takes a picture off the map; undo brings it back. */
export async function dropPicture(id: string): Promise<void> {
  openPins(null);
  await changeSettings({ pictures: pictures.peek().filter((picture) => picture.id !== id) }, false);
  notice.value = 'The picture is taken off. Undo brings it back.';
}

/** What the map shows of a picture, by its own switch and strength. */
export const pictureChoice = (id: string) => overlayChoice(`picture ${id}`);

export function flyToPicture({ id, width, height }: PinnedPicture): void {
  const placing = fitOf(id)?.fit?.placing;
  if (!placing) return;
  const [a, b, c, d, e, f] = placing;
  const corners = [
    [0, 0],
    [width, 0],
    [0, height],
    [width, height],
  ].map(([u, v]) => [a + b * u! + c * v!, d + e * u! + f * v!]);
  flyTo(null, corners, 50);
}
