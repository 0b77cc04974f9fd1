import { computed, effect, signal, untracked } from '@preact/signals';
import type { Point } from '../../core/grid/frame.ts';
import type { Answer, RequestName, RequestParams } from '../../electron/service/contract.ts';
import { troubleOf } from '../connection/trouble.ts';
import { aim } from './aiming.ts';
import { asked as hourAsked, scentBasis, scentReady } from './air-clock.ts';
import { isBlind } from './blind-trial.ts';
import { dragOpen } from './dragging.ts';
import { pen } from './editing.ts';
import { measureTool } from './measuring.ts';
import { painting } from './painting.ts';
import { pinning } from './pictures.ts';
import { pointer } from './pointer.ts';
import { reliefOpen } from './relief.ts';
import { ask, propertyKey, summary, tell } from './session.ts';
import { showing } from './showing.ts';

/** Under the hand: what is told of the spot the pointer rests on, drawn there until the pointer moves on or lets go. */

const KEPT = 'hollowgate.hand';
const wasOff = (): boolean => {
  try {
    return localStorage.getItem(KEPT) === 'off';
  } catch {
    return false;
  }
};
/** Whether resting the pointer asks; it can always be asked by key or by the other button of the mouse. */
export const handOn = signal(!wasOff());
effect(() => {
  try {
    localStorage.setItem(KEPT, handOn.value ? 'on' : 'off');
  } catch {
    // Storage may be denied; the window works without memory.
  }
});

/** The spot told of, and whether it stays while the pointer moves on. */
export const handAt = signal<Point | null>(null);
export const handHeld = signal(false);

/** How long the pointer rests before it is asked, ms, and how far it may shake meanwhile, px. */
const REST = 600;
const SHAKE = 10;

/** Nothing is told while the map is used for something else. */
const free = computed(
  () =>
    pen.value === null &&
    aim.value === null &&
    measureTool.value === null &&
    pinning.value === null &&
    !painting.value &&
    !reliefOpen.value &&
    showing.value === null &&
    !isBlind.value &&
    !dragOpen.value &&
    !!summary.value,
);

/** An answer about the spot, or why there is none; null while it is on its way or not asked. */
type Told<N extends RequestName> = { answer: Answer<N> } | { why: string } | null;

/** A question of the spot: a newer one takes its place, and it is taken back when the pointer moves on. */
function spotQuestion<N extends RequestName>(name: N) {
  const told = signal<Told<N>>(null);
  let latest = 0;
  let underWay = false;
  return {
    told,
    async put(params: RequestParams<N>): Promise<void> {
      latest += 1;
      const mine = latest;
      underWay = true;
      try {
        const answer = await ask(name, params);
        if (mine === latest) told.value = { answer };
      } catch (reason) {
        const trouble = troubleOf(reason);
        // A courtesy never raises an alarm: what cannot be told is said in its place.
        if (mine === latest && trouble.kind !== 'cancelled')
          told.value = { why: `${trouble.message} ${trouble.fix}`.trim() };
      } finally {
        if (mine === latest) underWay = false;
      }
    },
    say(why: string): void {
      latest += 1;
      told.value = { why };
    },
    forget(): void {
      latest += 1;
      told.value = null;
      if (underWay) void tell('ask.cancel', { ask: name });
      underWay = false;
    },
  };
}

export const onward = spotQuestion('hand.onward');

const smelled = spotQuestion('hand.smelled');
/** Where a person is smelled there, at the hour and wind of the clock of the air. */
export const smelledTold = smelled.told;
/** The air of the hour is being made: it takes seconds the first time, and is not asked again as the pointer moves. */
export const airMaking = signal(false);

const travelReady = computed(() => summary.value?.tables.some(({ name }) => name === 'corridors') ?? false);

/** What travel was solved on; another answer when it changes. */
const travelKey = computed(() =>
  (summary.value?.tables ?? [])
    .filter(({ name }) => name === 'corridors' || name === 'necks')
    .map(({ key }) => key)
    .join(' '),
);

effect(() => {
  void travelKey.value;
  const at = handAt.value;
  untracked(() => {
    if (!at) onward.forget();
    else if (!travelReady.value) onward.say('Travel has not been computed yet: scout the property first.');
    else void onward.put({ x: at[0], y: at[1] });
  });
});

/** The air that is ready for one spot after another, and the last that was asked for. */
let airReadyFor = '';
let airAskedFor = '';
/** Makes the air of the clock's hour ready; true once it is. */
async function makeAir(): Promise<boolean> {
  const hour = hourAsked.peek();
  const key = `${scentBasis.peek()} ${JSON.stringify(hour)}`;
  if (key === airReadyFor) return true;
  if (key === airAskedFor) return false;
  airAskedFor = key;
  airMaking.value = true;
  try {
    await ask('hand.air', hour);
    airReadyFor = key;
  } catch (reason) {
    const trouble = troubleOf(reason);
    if (trouble.kind !== 'cancelled') smelled.say(`${trouble.message} ${trouble.fix}`.trim());
  }
  if (airAskedFor !== key) return false;
  airAskedFor = '';
  airMaking.value = false;
  return airReadyFor === key;
}

/** Asks of the spot that is under the hand once the air is ready. */
async function askSmelled(): Promise<void> {
  if (!(await makeAir())) return;
  const at = handAt.peek();
  if (at) void smelled.put({ x: at[0], y: at[1], ...hourAsked.peek() });
}

effect(() => {
  void scentBasis.value;
  void hourAsked.value;
  const at = handAt.value;
  const ready = scentReady.value;
  untracked(() => {
    smelled.forget();
    if (!at) return;
    if (!ready) smelled.say('Air has not been computed yet: scout the property first.');
    else void askSmelled();
  });
});

/** Whether the spot lies in the lower half of the map: the card keeps to the other half. */
export const handLow = signal(false);

let timer: ReturnType<typeof setTimeout> | undefined;
let scale = 1;
/** Metres a pixel of the map, which says how far the pointer may shake. */
export const setHandScale = (metres: number): void => {
  scale = metres;
};

effect(() => {
  const at = pointer.value;
  clearTimeout(timer);
  if (!free.value) {
    untracked(letGo);
    return;
  }
  untracked(() => {
    if (handHeld.value) return;
    const was = handAt.value;
    if (was && at && Math.hypot(at[0] - was[0], at[1] - was[1]) <= SHAKE * scale) return;
    handAt.value = null;
    if (at && handOn.value)
      timer = setTimeout(() => {
        handAt.value = at;
      }, REST);
  });
});
effect(() => {
  void propertyKey.value;
  untracked(letGo);
});

/** Asks at a spot at once and keeps it there. */
export function holdAt(at: Point): void {
  if (!free.peek()) return;
  clearTimeout(timer);
  handAt.value = at;
  handHeld.value = true;
}

export function letGo(): void {
  clearTimeout(timer);
  handHeld.value = false;
  handAt.value = null;
}

/** The key: keeps what is told, or asks where the pointer is and keeps that; a second time lets go. */
export function toggleHold(): boolean {
  if (handHeld.peek()) {
    letGo();
    return true;
  }
  const at = handAt.peek() ?? pointer.peek();
  if (!at || !free.peek()) return false;
  holdAt(at);
  return true;
}
