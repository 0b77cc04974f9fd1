import { z } from 'zod';

const id = z.string().regex(/^[0-9a-f]{16}$/);

/** The shelf: every property opened on this machine, the newest first. */
export const shelfRequests = {
  'shelf.list': z.object({}).strict(),
  /** A PNG of the whole property, 256 px a side at most; empty while none has been made. */
  'shelf.map': z.object({ id }).strict(),
  /** Whose ground it is, and whether it is put away. What is not given stays. */
  'shelf.note': z
    .object({ id, client: z.string().max(200).optional(), archived: z.boolean().optional() })
    .strict(),
  /** Takes a property off the shelf; its file stays where it is. */
  'shelf.forget': z.object({ id }).strict(),
  /** A copy beside the others; a nameless one keeps the ground and loses names, notes and the history of edits. */
  'shelf.copy': z.object({ id, nameless: z.boolean() }).strict(),
  /** Every property of the shelf whose file is there, in one file. */
  'shelf.backup': z.object({}).strict(),
  /** Puts the properties of such a file on the shelf, beside what is there. */
  'shelf.restore': z.object({ path: z.string().min(1).max(4096) }).strict(),
} as const;

export interface ShelfRow {
  id: string;
  path: string;
  name: string;
  client: string;
  invented: boolean;
  /** When it was last opened, ISO 8601. */
  opened: string;
  archived: boolean;
  /** False when the file has been moved or removed. */
  there: boolean;
  /** Rings of the boundary as shares of the frame's longer side from its north-west corner, y down. */
  outline: [number, number][][];
}

export interface ShelfAnswers {
  'shelf.list': ShelfRow[];
  'shelf.map': Uint8Array;
  'shelf.note': ShelfRow[];
  'shelf.forget': ShelfRow[];
  'shelf.copy': { path: string };
  'shelf.backup': { path: string; properties: number; bytes: number };
  'shelf.restore': { properties: number };
}
