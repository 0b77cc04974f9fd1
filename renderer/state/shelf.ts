import { computed, signal } from '@preact/signals';
import type { ShelfRow } from '../../electron/service/contract.ts';
import { ask, notice, report, tell } from './session.ts';

/** The properties opened on this machine, and what can be done with them. */

export const shelf = signal<ShelfRow[] | null>(null);
export const sought = signal('');
export const showArchived = signal(false);
/** Set while a copy or back-up is made; says what. */
export const shelving = signal<string | null>(null);
/** Small maps by property, as object URLs. */
export const smallMaps = signal<Record<string, string>>({});

/** Rows that hold every word sought for, in the property's or the client's name or the path. */
export const found = computed(() => {
  const words = sought.value.toLowerCase().split(/\s+/).filter(Boolean);
  return (shelf.value ?? []).filter(({ name, client, path, archived }) => {
    const text = `${name} ${client} ${path}`.toLowerCase();
    return (showArchived.value || !archived) && words.every((word) => text.includes(word));
  });
});

export async function readShelf(): Promise<void> {
  const rows = await tell('shelf.list', {});
  if (rows) show(rows);
}

function show(rows: ShelfRow[]): void {
  shelf.value = rows;
  for (const { id } of rows) if (!(id in smallMaps.value)) void fetchMap(id);
}

async function fetchMap(id: string): Promise<void> {
  const png = await ask('shelf.map', { id }).catch(() => new Uint8Array());
  if (png.length === 0) return;
  const url = URL.createObjectURL(new Blob([Uint8Array.from(png)], { type: 'image/png' }));
  smallMaps.value = { ...smallMaps.value, [id]: url };
}

export async function note(id: string, patch: { client?: string; archived?: boolean }): Promise<void> {
  const rows = await tell('shelf.note', { id, ...patch });
  if (rows) show(rows);
}

export async function forget(id: string): Promise<void> {
  const rows = await tell('shelf.forget', { id });
  if (rows) show(rows);
}

async function work(doing: string, job: () => Promise<string>): Promise<void> {
  if (shelving.value) return;
  shelving.value = doing;
  try {
    notice.value = await job();
    await readShelf();
  } catch (reason) {
    report(reason);
  } finally {
    shelving.value = null;
  }
}

export const copy = (id: string, nameless: boolean): Promise<void> =>
  work('Copying', async () => `The copy is at ${(await ask('shelf.copy', { id, nameless })).path}.`);

export const backUp = (): Promise<void> =>
  work('Backing up', async () => {
    const { path, properties } = await ask('shelf.backup', {});
    return `${properties === 1 ? 'One property is' : `${properties} properties are`} backed up in ${path}.`;
  });

export const restore = (path: string): Promise<void> =>
  work('Restoring', async () => {
    const { properties } = await ask('shelf.restore', { path });
    return `${properties === 1 ? 'One property is' : `${properties} properties are`} back on the shelf.`;
  });
