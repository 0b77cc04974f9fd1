import { createHash } from 'node:crypto';
import { mkdir, readFile, rename, rm, stat, writeFile } from 'node:fs/promises';
import { join, resolve } from 'node:path';
import { type Feature, ofKind } from '../../core/features/feature.ts';
import { ringsOf } from '../../core/features/shapes.ts';
import type { Frame } from '../../core/grid/frame.ts';
import { Problem } from '../../core/grid/problem.ts';
import type { PropertyHead } from '../store/property-file.ts';
import type { ShelfRow } from './shelf-requests.ts';

/** What is written down of each property; whether its file is there is looked up when asked. */
type Entry = Omit<ShelfRow, 'there'>;
/** What a person says of it; the rest is read from the file. */
type Note = Pick<Entry, 'client' | 'archived'>;

/** The list of properties this program has opened, kept in the data folder beside their small maps. */
export interface Shelf {
  list(): Promise<ShelfRow[]>;
  /** @throws Problem when the property is not on the shelf */
  find(id: string): Promise<ShelfRow>;
  /** Puts a property in front, as opened just now. */
  place(head: PropertyHead, note?: Partial<Note>): Promise<void>;
  change(id: string, patch: { [K in keyof Note]?: Note[K] | undefined }): Promise<void>;
  forget(id: string): Promise<void>;
  keepMap(path: string, png: Uint8Array): Promise<void>;
  map(id: string): Promise<Uint8Array>;
}

export const shelfId = (path: string): string =>
  createHash('sha256').update(resolve(path)).digest('hex').slice(0, 16);

export function createShelf(dataFolder: string): Shelf {
  const folder = join(dataFolder, 'shelf');
  const listFile = join(folder, 'shelf.json');
  const mapFile = (id: string) => join(folder, `${id}.png`);
  let turn: Promise<unknown> = Promise.resolve();

  /** A list that cannot be read is begun anew: the properties themselves are not in it. */
  const read = async (): Promise<Entry[]> => {
    try {
      return JSON.parse(await readFile(listFile, 'utf8')) as Entry[];
    } catch {
      return [];
    }
  };
  /** One change after another, each moved into place whole. */
  const edit = (change: (entries: Entry[]) => Entry[]): Promise<void> => {
    const work = async () => {
      await mkdir(folder, { recursive: true });
      const building = `${listFile}.building-${process.pid}`;
      await writeFile(building, JSON.stringify(change(await read()), null, 1));
      await rename(building, listFile);
    };
    const result = turn.then(work, work);
    turn = result.catch(() => {});
    return result;
  };
  const list = async (): Promise<ShelfRow[]> => {
    await turn;
    const entries = (await read()).sort((a, b) => b.opened.localeCompare(a.opened));
    return Promise.all(
      entries.map(async (entry) => ({
        ...entry,
        there: await stat(entry.path).then(
          (found) => found.isFile(),
          () => false,
        ),
      })),
    );
  };

  return {
    list,
    async find(id) {
      const row = (await list()).find((candidate) => candidate.id === id);
      if (!row) throw new Problem('This property is not on the shelf.', { fix: 'Open its file by path.' });
      return row;
    },
    place(head, note) {
      const { path } = head;
      const id = shelfId(path);
      return edit((entries) => {
        const before = entries.find((entry) => entry.id === id);
        const entry: Entry = {
          id,
          path: resolve(path),
          client: note?.client ?? (before?.client || head.settings.brief.client),
          opened: new Date().toISOString(),
          archived: note?.archived ?? false,
          ...described(head),
        };
        return [entry, ...entries.filter((other) => other.id !== id)];
      });
    },
    change: (id, patch) =>
      edit((entries) =>
        entries.map((entry) =>
          entry.id === id
            ? { ...entry, client: patch.client ?? entry.client, archived: patch.archived ?? entry.archived }
            : entry,
        ),
      ),
    async forget(id) {
      await edit((entries) => entries.filter((entry) => entry.id !== id));
      await rm(mapFile(id), { force: true });
    },
    async keepMap(path, png) {
      await mkdir(folder, { recursive: true });
      await writeFile(mapFile(shelfId(path)), png);
    },
    map: (id) => readFile(mapFile(id)).catch(() => new Uint8Array()),
  };
}

/** What the shelf reads from the file itself. */
export const described = ({
  settings,
  frame,
  features,
}: PropertyHead): Pick<Entry, 'name' | 'invented' | 'outline'> => ({
  name: settings.name,
  invented: settings.invented,
  outline: outlineOf(features, frame),
});

/** The boundary as the small map draws it. */
function outlineOf(features: readonly Feature[], frame: Frame): ShelfRow['outline'] {
  const side = Math.max(frame.width, frame.height) * frame.cellSize;
  const share = (value: number) => Math.round((value / side) * 1000) / 1000;
  return ofKind(features, 'boundary')
    .flatMap(({ geometry }) => ringsOf(geometry))
    .map((ring) => ring.map(([x, y]): [number, number] => [share(x - frame.west), share(frame.north - y)]));
}
