import { computed, effect, signal } from '@preact/signals';
import type { ReportModel } from '../../core/analysis/report.ts';
import { ask, report, run, summary } from './session.ts';
import { compared, rulings } from './stands-search.ts';
import { sheet } from './stands-when.ts';

const loaded = signal<ReportModel | null>(null);

/** What the report is made of; the same key means the same report. Null while it cannot be made. */
const key = computed(() => {
  const property = summary.value;
  if (!property || run.value || !property.tables.some((t) => t.name === 'stand-risks')) return null;
  return JSON.stringify([
    property.name,
    property.units,
    property.tables.map((t) => t.key),
    property.settings,
    // What was asked of stands since is in the report as well.
    [compared, rulings, sheet].map(({ answer }) => answer.value?.seconds ?? null),
  ]);
});

const wanted = signal(false);

effect(() => {
  const now = key.value;
  if (!wanted.value || now === null) return;
  ask('report.model', {}).then((model) => {
    if (key.peek() === now) loaded.value = model;
  }, report);
});

/** The report as data, asked for on first use and again when what it rests on changed. */
export const reportModel = computed(() => {
  if (!wanted.peek())
    queueMicrotask(() => {
      wanted.value = true;
    });
  return summary.value ? loaded.value : null;
});
