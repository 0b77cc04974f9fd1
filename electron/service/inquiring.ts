import type { Artifacts } from '../../core/analysis/artifacts.ts';
import { Cancelled, Problem } from '../../core/grid/problem.ts';
import { type FoundOf, INQUIRIES, type InquiryName, type QuestionOf } from '../workers/inquiries/table.ts';
import type { StepPool } from '../workers/step-pool.ts';
import { type ServiceEvent, TroubleError } from './contract.ts';
import type { OpenProperty } from './open-property.ts';

export interface Inquiring {
  /**
   * Answers a question about the property in a worker. A newer question of the same name takes the place of one
   * still under way; `of` is the request that asks, where it has another name.
   *
   * @throws Problem when what it needs has not been computed yet; TroubleError of kind `cancelled`
   */
  ask<N extends InquiryName>(
    property: OpenProperty,
    name: N,
    question: QuestionOf<N>,
    of?: string,
  ): Promise<FoundOf<N>>;
  /** Stops the question of that name, or all; tells whether one was under way. */
  cancel(name?: string): boolean;
}

const cancelled = () =>
  new TroubleError({
    kind: 'cancelled',
    message: 'The question was taken back.',
    file: null,
    fix: 'Ask again.',
    question: null,
  });

/** Inquiries of a window, one of each name at a time, in a pool apart from the scout's so that none waits for it. */
export function createInquiring(pool: StepPool, emit: (event: ServiceEvent) => void): Inquiring {
  const running = new Map<string, SharedArrayBuffer>();
  const stop = (name: string): boolean => {
    const flag = running.get(name);
    if (flag) Atomics.store(new Int32Array(flag), 0, 1);
    return running.delete(name);
  };

  return {
    async ask(property, name, question, of = name) {
      const needs = INQUIRIES[name].needs as readonly (keyof Artifacts)[];
      if (needs.some((need) => property.artifacts[need] === undefined)) {
        throw new Problem('What this rests on has not been computed yet.', {
          fix: 'Wait for the scout to finish, or start it.',
        });
      }
      stop(of);
      const cancel = new SharedArrayBuffer(4);
      running.set(of, cancel);
      const inputs = Object.fromEntries(needs.map((need) => [need, property.artifacts[need]]));
      try {
        const found = await pool.run({ step: name, inputs, params: question, cancel }, (fraction) => {
          if (running.get(of) === cancel) emit({ type: 'ask.progress', ask: of, fraction });
        });
        // It may have been taken back after its last look at the flag.
        if (running.get(of) !== cancel) throw new Cancelled();
        return found as FoundOf<typeof name>;
      } catch (error) {
        throw error instanceof Cancelled ? cancelled() : error;
      } finally {
        if (running.get(of) === cancel) running.delete(of);
      }
    },
    cancel(name) {
      if (name !== undefined) return stop(name);
      return [...running.keys()].map(stop).some(Boolean);
    },
  };
}
