import { computed, effect, type ReadonlySignal, signal } from '@preact/signals';
import type { Answer, RequestName, RequestParams } from '../../electron/service/contract.ts';
import { troubleOf } from '../connection/trouble.ts';
import { ask, asksUnderWay, markUnderWay, propertyKey, report, tell } from './session.ts';

/** A question that may take a while: its last answer, how far it has come, and the way to take it back. */
export interface Inquiry<N extends RequestName> {
  answer: ReadonlySignal<Answer<N> | null>;
  /** What was asked last, kept with its answer. */
  asked: ReadonlySignal<RequestParams<N> | null>;
  /** Share done, 0..1; null when nothing is under way. */
  progress: ReadonlySignal<number | null>;
  put(params: RequestParams<N>): Promise<void>;
  takeBack(): void;
  forget(): void;
  /** What it rests on has changed: its answer is forgotten, and a question under way is put anew. */
  outdate(): void;
}

/** A newer question takes the place of one under way; answers about another property are dropped. */
export function inquiry<N extends RequestName>(name: N): Inquiry<N> {
  const answer = signal<Answer<N> | null>(null);
  const asked = signal<RequestParams<N> | null>(null);
  const progress = computed(() => asksUnderWay.value[name] ?? null);
  let latest = 0;
  let underWay: RequestParams<N> | null = null;
  const end = () => {
    underWay = null;
    markUnderWay(name, false);
  };
  const forget = () => {
    latest += 1;
    end();
    answer.value = null;
    asked.value = null;
  };
  effect(() => {
    void propertyKey.value;
    forget();
  });
  const put = async (params: RequestParams<N>) => {
    latest += 1;
    const mine = latest;
    underWay = params;
    markUnderWay(name, true);
    try {
      const given = await ask(name, params);
      if (mine !== latest) return;
      asked.value = params;
      answer.value = given;
    } catch (reason) {
      // A question that was taken back, or that a newer one replaced, is nothing to show.
      if (mine === latest && troubleOf(reason).kind !== 'cancelled') report(reason);
    } finally {
      if (mine === latest) end();
    }
  };
  return {
    answer,
    asked,
    progress,
    put,
    forget,
    outdate() {
      const params = underWay;
      forget();
      if (params) void put(params);
    },
    takeBack() {
      latest += 1;
      end();
      void tell('ask.cancel', { ask: name });
    },
  };
}
