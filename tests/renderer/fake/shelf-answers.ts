import type { ShelfRow } from '../../../electron/service/contract.ts';

const row = (index: number, more: Partial<ShelfRow> = {}): ShelfRow => ({
  id: index.toString(16).padStart(16, '0'),
  path: `/ground/place ${index}.gpkg`,
  name: `Place ${index}`,
  client: '',
  invented: true,
  opened: `2026-11-${20 - index}T12:00:00.000Z`,
  archived: false,
  there: true,
  outline: [
    [
      [0.2, 0.2],
      [0.8, 0.2],
      [0.8, 0.7],
      [0.2, 0.2],
    ],
  ],
  ...more,
});

let rows = [
  row(1),
  row(2, { client: 'Example client' }),
  row(3),
  row(4, { there: false }),
  row(5, { archived: true }),
];

/** A shelf of five, one of them put away and one whose file is gone. */
export const shelfAnswers = {
  'shelf.list': () => rows,
  'shelf.map': () => new Uint8Array(),
  'shelf.note': ({ id, ...patch }: { id: string }) => {
    rows = rows.map((one) => (one.id === id ? { ...one, ...patch } : one));
    return rows;
  },
  'shelf.forget': ({ id }: { id: string }) => {
    rows = rows.filter((one) => one.id !== id);
    return rows;
  },
  'shelf.copy': () => ({ path: '/ground/Nameless property.gpkg' }),
  'shelf.backup': () => ({ path: '/backups/Shelf.zip', properties: 4, bytes: 1000 }),
  'shelf.restore': () => ({ properties: 4 }),
};
