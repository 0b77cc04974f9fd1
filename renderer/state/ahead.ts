import { computed, type ReadonlySignal, signal } from '@preact/signals';
import type { Answer, RequestName, RequestParams } from '../../electron/service/contract.ts';
import { troubleOf } from '../connection/trouble.ts';
import { ask, asksUnderWay, markUnderWay, report, tell } from './session.ts';

/** A question asked again and again with other values: its answers are kept, and the next ones asked ahead. */
export interface Ahead<N extends RequestName> {
  /** The last answer shown; while the next is on its way it stays, so that nothing flickers. */
  answer: ReadonlySignal<Answer<N> | null>;
  /** What that answer is to. */
  asked: ReadonlySignal<RequestParams<N> | null>;
  /** The answer wanted is not here yet. */
  waiting: ReadonlySignal<boolean>;
  /** Share done of the one wanted, 0..1; null when nothing is waited for. */
  progress: ReadonlySignal<number | null>;
  /** Shows the answer to this as soon as it is here, and asks what follows while nothing else is wanted. */
  want(params: RequestParams<N>, next?: readonly RequestParams<N>[]): void;
  has(params: RequestParams<N>): boolean;
  takeBack(): void;
  forget(): void;
}

/** Fewer than the service keeps pictures of one kind, so that every answer kept can still be painted. */
const MOST = 26;

/** One question of a name is under way at a time: the service drops an older one when a newer comes. */
export function ahead<N extends RequestName>(name: N): Ahead<N> {
  const kept = new Map<string, Answer<N>>();
  const count = signal(0);
  const wanted = signal<RequestParams<N> | null>(null);
  const shown = signal<{ params: RequestParams<N>; answer: Answer<N> } | null>(null);
  let queue: RequestParams<N>[] = [];
  let under: { key: string } | null = null;

  const keyOf = (params: RequestParams<N>) => JSON.stringify(params);
  const waiting = computed(
    () =>
      wanted.value !== null && (shown.value === null || keyOf(shown.value.params) !== keyOf(wanted.value)),
  );
  const mark = (on: boolean) => markUnderWay(name, on);
  const keep = (key: string, answer: Answer<N>) => {
    kept.delete(key);
    kept.set(key, answer);
    if (kept.size > MOST) kept.delete(kept.keys().next().value!);
    count.value += 1;
  };
  const show = () => {
    const params = wanted.peek();
    const answer = params && kept.get(keyOf(params));
    if (params && answer !== undefined && answer !== null) shown.value = { params, answer };
    return waiting.peek() === false;
  };

  const send = async (params: RequestParams<N>, isWanted: boolean) => {
    const mine = { key: keyOf(params) };
    under = mine;
    if (isWanted) mark(true);
    try {
      const answer = await ask(name, params);
      if (under === mine) keep(mine.key, answer);
    } catch (reason) {
      if (under !== mine) return;
      // What cannot be answered is not asked ahead, nor asked again and again.
      queue = [];
      const now = wanted.peek();
      if (now && keyOf(now) === mine.key) {
        wanted.value = shown.peek()?.params ?? null;
        if (troubleOf(reason).kind !== 'cancelled') report(reason);
      }
    } finally {
      if (under === mine) {
        under = null;
        mark(false);
        pump();
      }
    }
  };
  const pump = () => {
    const now = wanted.peek();
    if (now && !show()) {
      // What was asked ahead and is wanted now is waited for; anything else gives way.
      if (under?.key === keyOf(now)) mark(true);
      else void send(now, true);
      return;
    }
    if (under) return;
    queue = queue.filter((params) => !kept.has(keyOf(params)));
    const next = queue[0];
    if (next) void send(next, false);
  };

  return {
    answer: computed(() => shown.value?.answer ?? null),
    asked: computed(() => shown.value?.params ?? null),
    waiting,
    progress: computed(() => (waiting.value ? (asksUnderWay.value[name] ?? 0) : null)),
    want(params, next = []) {
      wanted.value = params;
      queue = [...next];
      pump();
    },
    has(params) {
      void count.value;
      return kept.has(keyOf(params));
    },
    takeBack() {
      under = null;
      queue = [];
      wanted.value = shown.peek()?.params ?? null;
      mark(false);
      void tell('ask.cancel', { ask: name });
    },
    forget() {
      under = null;
      queue = [];
      kept.clear();
      count.value += 1;
      wanted.value = null;
      shown.value = null;
      mark(false);
    },
  };
}
