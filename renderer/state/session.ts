import { computed, effect, signal } from '@preact/signals';
import type {
  Answer,
  Connection,
  PropertySummary,
  RequestName,
  RequestParams,
  ServiceEvent,
  Trouble,
} from '../../electron/service/contract.ts';
import type { LoopbackConnection } from '../connection/loopback.ts';
import { troubleOf } from '../connection/trouble.ts';

/** What the window knows of the service: the connection, the open property, the run, and what went wrong. */

let connection: Connection | null = null;

export const host = signal<Answer<'host.describe'> | null>(null);
/** `undefined` until the service has answered the first time; null when no property is open. */
export const summary = signal<PropertySummary | null | undefined>(undefined);
export const units = computed(() => summary.value?.units ?? 'us');

/** Tells one open property from another. */
export const propertyKey = computed(() => {
  const open = summary.value;
  return open ? JSON.stringify([open.name, open.frame]) : '';
});
/** How far each question has come that is being worked on, by the name of its request. */
export const asksUnderWay = signal<Record<string, number>>({});

/** Shows that a request is being worked on, or no longer. */
export function markUnderWay(name: string, on: boolean): void {
  const { [name]: _, ...others } = asksUnderWay.peek();
  asksUnderWay.value = on ? { ...others, [name]: 0 } : others;
}

export interface Run {
  id: string;
  fraction: number;
  doing: string;
  remaining: number | null;
}
export const run = signal<Run | null>(null);
/** True after a change that the last run did not see. */
export const stale = signal(false);

export const troubles = signal<{ id: number; trouble: Trouble }[]>([]);
/** One line for screen readers and the foot of the window; never an error. It goes away by itself. */
export const notice = signal('');
/** What was chosen from the desktop window's menu and is not yet begun. */
export const chosen = signal<'export' | null>(null);
const NOTICE_TIME = 8000;
effect(() => {
  if (notice.value === '') return;
  const timer = setTimeout(() => {
    notice.value = '';
  }, NOTICE_TIME);
  return () => clearTimeout(timer);
});

let lastTrouble = 0;

export function report(reason: unknown): void {
  const trouble = troubleOf(reason);
  // What was taken back, or gave way to a newer question, is nothing to show.
  if (trouble.kind === 'cancelled') return;
  const same = troubles.value.find(
    (t) => t.trouble.message === trouble.message && t.trouble.file === trouble.file,
  );
  if (same) return;
  lastTrouble += 1;
  troubles.value = [...troubles.value, { id: lastTrouble, trouble }];
}

export function dismiss(id: number): void {
  troubles.value = troubles.value.filter((t) => t.id !== id);
}

/** A request whose refusal the caller handles. */
export function ask<N extends RequestName>(
  name: N,
  params: RequestParams<N>,
  binary?: Uint8Array,
): Promise<Answer<N>> {
  if (!connection) return Promise.reject(new Error('The window is not connected yet.'));
  return connection.request(name, params, binary);
}

/** A request whose refusal is shown; answers null then. */
export async function tell<N extends RequestName>(
  name: N,
  params: RequestParams<N>,
): Promise<Answer<N> | null> {
  try {
    return await ask(name, params);
  } catch (reason) {
    report(reason);
    return null;
  }
}

export async function begin(made: Connection | LoopbackConnection): Promise<void> {
  connection = made;
  made.listen(onEvent);
  // What happened during a break is unknown: a run that still goes on will report itself.
  if ('onReopened' in made)
    made.onReopened(() => {
      run.value = null;
      void refreshSummary();
    });
  host.value = await ask('host.describe', {});
  summary.value = await ask('property.summary', {});
}

function onEvent(event: ServiceEvent): void {
  switch (event.type) {
    case 'scout.progress': {
      const { run: id, fraction, doing, remaining } = event;
      // What is edited from here on, this run does not see.
      if (run.peek()?.id !== id) stale.value = false;
      run.value = { id, fraction, doing, remaining };
      return;
    }
    case 'scout.step':
      // The summary names what is ready; the event alone does not carry the keys.
      void refreshSummary();
      return;
    case 'scout.done':
      run.value = null;
      notice.value = `Scouted in ${event.seconds < 10 ? event.seconds.toFixed(1) : Math.round(event.seconds)} s.`;
      void refreshSummary();
      return;
    case 'scout.cancelled':
      run.value = null;
      stale.value = true;
      notice.value = 'Scouting stopped. What was ready before stays on the map.';
      return;
    case 'scout.failed':
      run.value = null;
      stale.value = true;
      report({ trouble: event.trouble });
      return;
    case 'ask.progress':
      if (event.ask in asksUnderWay.peek())
        asksUnderWay.value = { ...asksUnderWay.peek(), [event.ask]: event.fraction };
      return;
    case 'host.trouble':
      report({ trouble: event.trouble });
      // The service may have been started again without its property.
      run.value = null;
      void refreshSummary();
      return;
    case 'host.menu':
      chosen.value = event.item;
      return;
    case 'property.changed':
      summary.value = event.summary;
      return;
  }
}

let asking = false;
let askAgain = false;

/** Steps finish in bursts; one question at a time is enough as long as the last one is asked after the last step. */
async function refreshSummary(): Promise<void> {
  if (asking) {
    askAgain = true;
    return;
  }
  asking = true;
  try {
    summary.value = await ask('property.summary', {});
  } catch (reason) {
    report(reason);
  } finally {
    asking = false;
    if (askAgain) {
      askAgain = false;
      void refreshSummary();
    }
  }
}

export async function startScout(): Promise<void> {
  if (run.value) await tell('scout.cancel', {});
  const started = await tell('scout.start', {});
  if (started) {
    stale.value = false;
    run.value ??= { id: started.run, fraction: 0, doing: 'Starting', remaining: null };
  }
}
