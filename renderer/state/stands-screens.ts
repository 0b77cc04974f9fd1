import { computed, effect, signal, untracked } from '@preact/signals';
import type { RequestParams, ScreenPlant } from '../../electron/service/contract.ts';
import { putFeature } from './editing.ts';
import { inquiry } from './inquiry.ts';
import { type FeatureRow, type Row, rowsOf } from './rows.ts';
import { asked, basis, seatAt } from './stands-asks.ts';
import { table } from './tables.ts';

/** Screens tried out: a crescent round the stand, a line beside a way, or one that is drawn. */

export const screens = inquiry('stands.screen');

export type ScreenShape = RequestParams<'stands.screen'>['shape'];

export interface ScreenForm {
  shape: ScreenShape;
  plant: ScreenPlant;
  rows: number;
  rowSpacing: number;
  radius: number;
  /** Degrees from true north; null lets the tool turn it away from the travel. */
  opens: number | null;
  offset: number;
  way: string | null;
  screen: string | null;
}
export const screenForm = signal<ScreenForm>({
  shape: 'crescent',
  plant: 'switchgrass',
  rows: 3,
  rowSpacing: 0.9144,
  radius: 5,
  opens: null,
  offset: 4,
  way: null,
  screen: null,
});
export const setScreen = (change: Partial<ScreenForm>): void => {
  screenForm.value = { ...screenForm.peek(), ...change };
};

const linesOf = (...kinds: FeatureRow['kind'][]) =>
  computed((): Row<FeatureRow>[] =>
    rowsOf('features', table('features').value).filter(
      ({ kind, shape }) =>
        kinds.includes(kind) && (shape.type === 'LineString' || shape.type === 'MultiLineString'),
    ),
  );
/** Ways somebody walks or drives, and screens that are drawn. */
export const waysToHide = linesOf('road', 'trail', 'access');
export const drawnScreens = linesOf('screen');

/** What the form asks for now; null while something it needs is missing. */
const question = computed((): RequestParams<'stands.screen'> | null => {
  const { shape, way, screen, ...rest } = screenForm.value;
  const lane = waysToHide.value.find(({ id }) => id === way) ?? waysToHide.value[0];
  const drawn = drawnScreens.value.find(({ id }) => id === screen) ?? drawnScreens.value[0];
  if (shape === 'beside')
    return lane ? { ...NO_STAND, ...rest, ...FIXED, shape, way: lane.id, screen: null } : null;
  if (!seatAt.value) return null;
  if (shape === 'drawn')
    return drawn
      ? { ...asked.value, ...rest, ...FIXED, shape, plant: null, way: null, screen: drawn.id }
      : null;
  return { ...asked.value, ...rest, ...FIXED, shape, way: null, screen: null };
});
const NO_STAND = { stand: null, at: null, seatHeight: null, weapon: null, range: null };
const FIXED = { gap: 90, side: null };

export const screenReady = computed(() => question.value !== null);
export const tryScreen = (): void => {
  const params = question.peek();
  if (params) void screens.put(params);
};

// What is tried of the stand or the screen makes the last answer another's.
effect(() => {
  void question.value;
  void basis.value;
  untracked(screens.forget);
});

/** Draws the screen that was tried as a proposed one. */
export async function proposeScreen(): Promise<void> {
  const answer = screens.answer.peek();
  if (!answer) return;
  const lines = answer.lines.features.flatMap(({ geometry }) =>
    geometry.type === 'LineString' ? [geometry.coordinates.map(([x, y]): [number, number] => [x!, y!])] : [],
  );
  if (lines.length === 0) return;
  await putFeature(
    {
      id: `drawn-${crypto.randomUUID()}`,
      kind: 'screen',
      status: 'proposed',
      name: null,
      geometry:
        lines.length === 1
          ? { type: 'LineString', coordinates: lines[0]! }
          : { type: 'MultiLineString', coordinates: lines },
      attributes: answer.attributes,
      source: 'drawn',
    },
    'A screen is proposed. Undo takes it back.',
  );
}
