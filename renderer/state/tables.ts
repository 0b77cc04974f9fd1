import { computed, effect, type ReadonlySignal, type Signal, signal, untracked } from '@preact/signals';
import type { FeatureCollection } from 'geojson';
import type { TABLES } from '../../electron/service/contract.ts';
import { ask, propertyKey, report, summary } from './session.ts';

export type TableName = (typeof TABLES)[number];

interface Cell {
  /** The last answer and the property it is of: rows of another property must never be taken for this one's. */
  loaded: Signal<{ property: string; collection: FeatureCollection } | null>;
  /** The rows of the open property; null until they are there. */
  rows: ReadonlySignal<FeatureCollection | null>;
  /** Property and key of what is loaded or on its way; null when nothing is. */
  key: string | null;
}

const cells = new Map<TableName, Cell>();
const wanted = signal(0);

/**
 * A table as a signal: null until it is there. The first use asks for it, and it is asked for again whenever its
 * key in the summary changes, so a stage that was never opened costs nothing.
 */
export function table(name: TableName): ReadonlySignal<FeatureCollection | null> {
  let cell = cells.get(name);
  if (!cell) {
    const loaded: Cell['loaded'] = signal(null);
    const rows = computed(() =>
      loaded.value?.property === propertyKey.value ? loaded.value.collection : null,
    );
    cell = { loaded, rows, key: null };
    cells.set(name, cell);
    queueMicrotask(() => {
      wanted.value += 1;
    });
  }
  return cell.rows;
}

effect(() => {
  void wanted.value;
  const of = propertyKey.value;
  const ready = new Map(summary.value?.tables.map((t) => [t.name, t.key]));
  untracked(() => {
    for (const [name, cell] of cells) {
      const there = ready.get(name);
      const key = there === undefined ? null : `${of} ${there}`;
      if (key === cell.key) continue;
      cell.key = key;
      if (key === null) cell.loaded.value = null;
      else void load(name, cell, key, of);
    }
  });
});

async function load(name: TableName, cell: Cell, key: string, of: string): Promise<void> {
  try {
    const collection = await ask('map.table', { table: name });
    // A later key may have overtaken this answer.
    if (cell.key === key) cell.loaded.value = { property: of, collection };
  } catch (reason) {
    if (cell.key !== key) return;
    cell.key = null;
    report(reason);
  }
}
