import type { Artifacts } from '../../core/analysis/artifacts.ts';
import { Cancelled, Problem } from '../../core/grid/problem.ts';
import { type FoundOf, INQUIRIES, type InquiryName, type QuestionOf } from '../workers/inquiries/table.ts';
import type { JobName } from '../workers/jobs.ts';
import { type JobAnswer, type JobInput, runJob } from '../workers/run-job.ts';
import type { StepPool } from '../workers/step-pool.ts';
import { type ServiceEvent, TroubleError } from './contract.ts';
import type { OpenProperty } from './open-property.ts';

/** A short question need not wait for a long one, and one that falls into parts is answered sooner. */
export const INQUIRIES_AT_ONCE = 2;

/** Share of a request's progress that one of its parts takes, from and to, 0..1. */
type Span = readonly [number, number];
const WHOLE: Span = [0, 1];

/** Asks the parts of one request; all of them stop when it is taken back. */
export interface Inquirer {
  /**
   * Answers a question about the property in a worker. With a span of null its progress is not told: a longer part goes
   * on beside it.
   *
   * @throws Problem when what it needs has not been computed yet; TroubleError of kind `cancelled`
   */
  ask<N extends InquiryName>(
    property: OpenProperty,
    name: N,
    question: QuestionOf<N>,
    span?: Span | null,
  ): Promise<FoundOf<N>>;
  /** Runs a long job with files. @throws as `runJob`; TroubleError of kind `cancelled` */
  job<N extends JobName>(name: N, input: JobInput<N>, span?: Span): Promise<JobAnswer<N>>;
  /** Waits for work that other requests may wait for too. */
  share<T>(work: SharedWork<T>, span?: Span): Promise<T>;
}

/** Work that serves several requests: it goes on while any of them waits for it. */
export interface SharedWork<T> {
  found: Promise<T>;
  /** It was stopped because nobody waited any more, or it failed: it has to be begun anew. */
  failed(): boolean;
  wait(report: (fraction: number) => void): () => void;
}

export interface Inquiring {
  /** One request and its parts. A newer one of the same name takes the place of one still under way. */
  within<T>(of: string, work: (inquirer: Inquirer) => Promise<T>): Promise<T>;
  /** The same for a request of one part; `of` is the request that asks, where it has another name. */
  ask<N extends InquiryName>(
    property: OpenProperty,
    name: N,
    question: QuestionOf<N>,
    of?: string,
  ): Promise<FoundOf<N>>;
  /** Begins work for whoever comes to `Inquirer.share` it; stopped once nobody waits any more. */
  begin<T>(work: (inquirer: Inquirer) => Promise<T>): SharedWork<T>;
  /** Stops the request of that name, or all; tells whether one was under way. */
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

/** Something under way that can be stopped. */
interface Running {
  stopped: boolean;
  /** Each tells one of its parts to stop. */
  stops: Set<() => void>;
  report(fraction: number): void;
}

/** Requests of a window, one of each name at a time, in a pool apart from the scout's so that none waits for it. */
export function createInquiring(pool: StepPool, emit: (event: ServiceEvent) => void): Inquiring {
  const running = new Map<string, Running>();
  const stop = (each: Running): void => {
    each.stopped = true;
    for (const tell of each.stops) tell();
  };

  /** Runs work until it is done or told to stop. */
  const run = <T>(me: Running, work: (inquirer: Inquirer) => Promise<T>): Promise<T> => {
    const taken = new Promise<never>((_, reject) => {
      me.stops.add(() => reject(cancelled()));
    });
    return Promise.race([work(inquirerOf(me)), taken]);
  };

  const inquirerOf = (me: Running): Inquirer => ({
    async ask(property, name, question, span = WHOLE) {
      const needs = INQUIRIES[name].needs as readonly (keyof Artifacts)[];
      if (needs.some((need) => property.artifacts[need] === undefined)) {
        throw new Problem('What this rests on has not been computed yet.', {
          fix: 'Wait for the scout to finish, or start it.',
        });
      }
      if (me.stopped) throw cancelled();
      const cancel = new SharedArrayBuffer(4);
      const tell = () => Atomics.store(new Int32Array(cancel), 0, 1);
      me.stops.add(tell);
      const inputs = Object.fromEntries(needs.map((need) => [need, property.artifacts[need]]));
      try {
        const found = await pool.run({ step: name, inputs, params: question, cancel }, (fraction) => {
          if (span && !me.stopped) me.report(span[0] + fraction * (span[1] - span[0]));
        });
        // It may have been taken back after its last look at the flag.
        if (me.stopped) throw new Cancelled();
        return found as FoundOf<typeof name>;
      } catch (error) {
        throw error instanceof Cancelled ? cancelled() : error;
      } finally {
        me.stops.delete(tell);
      }
    },
    job(name, input, [from, to] = WHOLE) {
      if (me.stopped) return Promise.reject(cancelled());
      const ending = new AbortController();
      const tell = () => ending.abort();
      me.stops.add(tell);
      const report = (fraction: number) => {
        if (!me.stopped) me.report(from + fraction * (to - from));
      };
      return runJob(name, input, report, ending.signal)
        .catch((error: unknown) => {
          throw error instanceof Cancelled ? cancelled() : error;
        })
        .finally(() => me.stops.delete(tell));
    },
    async share(work, [from, to] = WHOLE) {
      if (me.stopped) throw cancelled();
      const leave = work.wait((fraction) => {
        if (!me.stopped) me.report(from + fraction * (to - from));
      });
      me.stops.add(leave);
      try {
        return await work.found;
      } finally {
        me.stops.delete(leave);
        leave();
      }
    },
  });

  const inquiring: Inquiring = {
    async within(of, work) {
      const older = running.get(of);
      if (older) stop(older);
      const me: Running = {
        stopped: false,
        stops: new Set(),
        report: (fraction) => emit({ type: 'ask.progress', ask: of, fraction }),
      };
      running.set(of, me);
      try {
        return await run(me, work);
      } finally {
        if (running.get(of) === me) running.delete(of);
      }
    },
    ask: (property, name, question, of = name) =>
      inquiring.within(of, (inquirer) => inquirer.ask(property, name, question)),
    begin(work) {
      const waiting = new Set<(fraction: number) => void>();
      let done = false;
      const me: Running = {
        stopped: false,
        stops: new Set(),
        report(fraction) {
          for (const report of waiting) report(fraction);
        },
      };
      let failed = false;
      const found = run(me, work).finally(() => {
        done = true;
      });
      // Whoever waits hears of a failure; when nobody does, there is nobody to tell.
      found.catch(() => {
        failed = true;
      });
      return {
        found,
        failed: () => failed || me.stopped,
        wait(report) {
          waiting.add(report);
          return () => {
            waiting.delete(report);
            if (waiting.size === 0 && !done) stop(me);
          };
        },
      };
    },
    cancel(name) {
      const named = name === undefined ? [...running.values()] : [running.get(name)].filter((each) => !!each);
      if (name === undefined) running.clear();
      else running.delete(name);
      for (const each of named) stop(each);
      return named.length > 0;
    },
  };
  return inquiring;
}
