import { computed, effect, signal, untracked } from '@preact/signals';
import type { Point } from '../../core/grid/frame.ts';
import { startAim, stopAim } from './aiming.ts';
import { putFeature } from './editing.ts';
import { inquiry } from './inquiry.ts';
import { type FeatureRow, type Row, rowsOf } from './rows.ts';
import { stands } from './stand-list.ts';
import { basis } from './stands-asks.ts';
import { hunt } from './stands-when.ts';
import { table } from './tables.ts';

/** After the hunt: sits, other visits and what was seen, kept as features; and what that says of the verdicts. */

export const log = inquiry('stands.log');

// Features are among what the tables' keys stand for.
effect(() => {
  void basis.value;
  void JSON.stringify(hunt.value);
  untracked(log.forget);
});

const rowsOfKind = (kind: FeatureRow['kind']) =>
  computed(() => rowsOf('features', table('features').value).filter((row) => row.kind === kind));
const visits = rowsOfKind('visit');
const observations = rowsOfKind('observation');

export type LoggedRow = Row<FeatureRow>;

/** Visits, the latest first. */
export const visitRows = computed((): LoggedRow[] =>
  visits.value.toSorted((a, b) => dayOf(b).localeCompare(dayOf(a))),
);
const dayOf = ({ attributes: { date, from } }: LoggedRow): string =>
  `${typeof date === 'string' ? date : ''} ${typeof from === 'number' ? String(from).padStart(6, '0') : ''}`;
export const seenOn = (sit: string): LoggedRow[] =>
  observations.value.filter(({ attributes }) => attributes.sit === sit);

export interface VisitForm {
  who: 'sit' | 'owner' | 'stock' | 'mowing' | 'feed';
  stand: string | null;
  date: string;
  /** Hours of the day; null not told. */
  from: number | null;
  to: number | null;
  /** Degrees from true north, `calm`, or null not told. */
  wind: number | 'calm' | null;
}
const two = (n: number): string => String(n).padStart(2, '0');
const today = (): string => {
  const now = new Date();
  return `${now.getFullYear()}-${two(now.getMonth() + 1)}-${two(now.getDate())}`;
};
export const visitForm = signal<VisitForm>({
  who: 'sit',
  stand: null,
  date: today(),
  from: null,
  to: null,
  wind: null,
});
export const setVisit = (change: Partial<VisitForm>): void => {
  visitForm.value = { ...visitForm.peek(), ...change };
};

/** Writes a sit down at its stand; another visit waits for its place on the map. */
export function logVisit(): void {
  const { who, stand, date, from, to, wind } = visitForm.peek();
  const put = (at: Point, attributes: Record<string, string | number>) =>
    putFeature(
      {
        id: `drawn-${crypto.randomUUID()}`,
        kind: 'visit',
        status: 'existing',
        name: null,
        geometry: { type: 'Point', coordinates: [at[0], at[1]] },
        attributes: { date, who, ...attributes },
        source: 'drawn',
      },
      who === 'sit' ? 'The sit is logged. Undo takes it back.' : 'The visit is logged. Undo takes it back.',
    );
  if (who === 'sit') {
    const of = stands.peek().find(({ id }) => id === stand) ?? stands.peek()[0];
    if (!of) return;
    void put(of.at, {
      stand: of.id,
      ...(from === null ? {} : { from }),
      ...(to === null ? {} : { to }),
      ...(wind === null ? {} : wind === 'calm' ? { windSpeed: 0 } : { windFrom: wind }),
    });
    return;
  }
  startAim({
    title: 'A visit',
    places: ['Click where it was.'],
    done: ([at]) => {
      stopAim();
      void put(at!, {});
    },
  });
}

export interface SeenForm {
  /** The sit it is written down for. */
  sit: string;
  what: string;
  count: number;
  hour: number | null;
  came: number | null;
  outcome: string;
}
/** What is being written down; null while nothing is. */
export const seenForm = signal<SeenForm | null>(null);
export const beginSeen = (sit: string): void => {
  seenForm.value = { sit, what: '', count: 1, hour: null, came: null, outcome: '' };
};
export const setSeen = (change: Partial<SeenForm>): void => {
  const now = seenForm.peek();
  if (now) seenForm.value = { ...now, ...change };
};

/** Waits for the place on the map and writes it down there. */
export function placeSeen(): void {
  const now = seenForm.peek();
  if (!now) return;
  startAim({
    title: 'What was seen',
    places: ['Click where you first saw them.'],
    done: ([at]) => {
      stopAim();
      const { sit, what, count, hour, came, outcome } = now;
      void putFeature(
        {
          id: `drawn-${crypto.randomUUID()}`,
          kind: 'observation',
          status: 'existing',
          name: null,
          geometry: { type: 'Point', coordinates: [at![0], at![1]] },
          attributes: {
            sit,
            count,
            ...(what ? { what } : {}),
            ...(hour === null ? {} : { hour }),
            ...(came === null ? {} : { came }),
            ...(outcome ? { outcome } : {}),
          },
          source: 'drawn',
        },
        'Written down. Undo takes it back.',
      );
      seenForm.value = null;
    },
  });
}
