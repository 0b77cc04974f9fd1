import type { MenuItemConstructorOptions } from 'electron';
import type { ShelfRow } from '../service/shelf-requests.ts';

/** Requests after which another property may be in front. */
export const OPENS: ReadonlySet<string> = new Set([
  'property.open',
  'property.openSample',
  'property.pick',
  'import.finish',
  'shelf.forget',
  'shelf.note',
  'shelf.restore',
]);

const MOST = 10;

/** The properties opened last, newest first; those put away or gone are left out. */
export const recentOf = (shelf: readonly ShelfRow[]): ShelfRow[] =>
  shelf
    .filter(({ archived, there }) => there && !archived)
    .toSorted((a, b) => b.opened.localeCompare(a.opened))
    .slice(0, MOST);

/** The menu of them. Two of one name are told apart by their clients, else by where they lie. */
export function recentMenu(
  rows: readonly ShelfRow[],
  open: (path: string) => void,
): MenuItemConstructorOptions {
  const shared = (name: string): boolean => rows.filter((row) => row.name === name).length > 1;
  return {
    label: 'Open &recent',
    enabled: rows.length > 0,
    submenu: rows.map(({ name, client, path }) => ({
      // An ampersand in a menu marks the letter that chooses it; two stand for one.
      label: (shared(name) ? `${name} (${client || path})` : name).replaceAll('&', '&&'),
      click: () => open(path),
    })),
  };
}
