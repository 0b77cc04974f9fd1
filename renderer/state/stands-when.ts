import { computed, effect, signal, untracked } from '@preact/signals';
import type { HuntSettings } from '../../electron/service/contract.ts';
import { inquiry } from './inquiry.ts';
import { summary } from './session.ts';
import { asked, basis, chosen, seatAt, standsLeaf, standsReady, triedAt } from './stands-asks.ts';
import { stage } from './view.ts';

/** Questions of when a stand is sat: its verdict, the sheet of the season, and a day with a typed-in wind. */

export const verdict = inquiry('stands.verdict');
export const sheet = inquiry('stands.sheet');
export const forecast = inquiry('stands.forecast');

/** What a person may set about when stands are hunted; null while no property is open. */
export const hunt = computed(() => (summary.value?.settings.hunt as HuntSettings | undefined) ?? null);

/** Besides the tables, the rules of the hunt, the stands and the air decide; visits and quiet ground are features. */
export const huntRules = computed(() => {
  const { hunt: hunts, stands, air } = summary.value?.settings ?? {};
  return `${basis.value} ${JSON.stringify([hunts, stands, air])}`;
});

// No answer outlives what it was made from.
effect(() => {
  void huntRules.value;
  untracked(() => {
    verdict.forget();
    sheet.outdate();
    forecast.outdate();
  });
});

/** The day a verdict is looked at on, YYYY-MM-DD; null for the season as a whole. */
export const verdictDay = signal<string | null>(null);

/** Once asked for, the verdict follows the stand as it is chosen, moved or changed, until the leaf is left. */
const follows = signal(false);
/** A drag settles this long before it is judged, ms. */
const SETTLES = 350;

export const judge = (): void => {
  follows.value = true;
};

// The answer of another stand or spot must not be read as this one's.
effect(() => {
  void chosen.value?.id;
  void (triedAt.value === null);
  untracked(verdict.forget);
});
effect(() => {
  if (stage.value !== 'stands' || standsLeaf.value !== 'verdict') follows.value = false;
});
let settling: ReturnType<typeof setTimeout> | undefined;
effect(() => {
  void huntRules.value;
  const params = { ...asked.value, date: verdictDay.value };
  const now = follows.value && standsReady.value && seatAt.value !== null;
  clearTimeout(settling);
  if (now) settling = setTimeout(() => void verdict.put(params), SETTLES);
});

export const today = (): string => {
  const now = new Date();
  const two = (n: number) => String(n).padStart(2, '0');
  return `${now.getFullYear()}-${two(now.getMonth() + 1)}-${two(now.getDate())}`;
};

/** The day and the wind as they were typed in: degrees from true north it comes from, m/s; how many hunt. */
export const forecastDay = signal(today());
export const forecastWind = signal({ from: 270, speed: 3 });
export const hunters = signal(1);

export const askForecast = (): void =>
  void forecast.put({
    date: forecastDay.peek(),
    windFrom: forecastWind.peek().from,
    windSpeed: forecastWind.peek().speed,
    hunters: hunters.peek(),
  });
