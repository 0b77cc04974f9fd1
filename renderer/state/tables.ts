import { effect, type Signal, signal, untracked } from '@preact/signals';
import type { FeatureCollection } from 'geojson';
import type { TABLES } from '../../electron/service/contract.ts';
import { ask, report, summary } from './session.ts';

export type TableName = (typeof TABLES)[number];

interface Cell {
  data: Signal<FeatureCollection | null>;
  /** Key of what is loaded or on its way; null when nothing is. */
  key: string | null;
}

const cells = new Map<TableName, Cell>();
const wanted = signal(0);

/**
 * A table as a signal: null until it is there. The first use asks for it, and it is asked for again whenever its
 * key in the summary changes, so a stage that was never opened costs nothing.
 */
export function table(name: TableName): Signal<FeatureCollection | null> {
  let cell = cells.get(name);
  if (!cell) {
    cell = { data: signal(null), key: null };
    cells.set(name, cell);
    queueMicrotask(() => {
      wanted.value += 1;
    });
  }
  return cell.data;
}

effect(() => {
  void wanted.value;
  const ready = new Map(summary.value?.tables.map((t) => [t.name, t.key]));
  untracked(() => {
    for (const [name, cell] of cells) {
      const key = ready.get(name) ?? null;
      if (key === cell.key) continue;
      cell.key = key;
      if (key === null) cell.data.value = null;
      else void load(name, cell, key);
    }
  });
});

async function load(name: TableName, cell: Cell, key: string): Promise<void> {
  try {
    const collection = await ask('map.table', { table: name });
    // A later key may have overtaken this answer.
    if (cell.key === key) cell.data.value = collection;
  } catch (reason) {
    cell.key = null;
    report(reason);
  }
}
