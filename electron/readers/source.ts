import { createHash } from 'node:crypto';
import { createReadStream, statSync } from 'node:fs';
import { type FileHandle, open } from 'node:fs/promises';
import { Problem } from '../../core/grid/problem.ts';
import { refusal } from './refusal.ts';

interface Slice {
  offset: number;
  length: number;
}

/** Thrown inside a decoder when a file ends before the data its header promises. */
export class EndsEarly extends Error {}

/**
 * Bytes of a local file for geotiff. Unlike the library's own source it refuses to read past the end instead of
 * handing out zeros, so that a truncated download cannot pass for flat ground.
 */
export class FileBytes {
  readonly size: number;
  private readonly handle: FileHandle;
  /** While the header is parsed, geotiff asks for whole blocks that may reach past the end of a small file. */
  strict = false;

  constructor(handle: FileHandle, size: number) {
    this.handle = handle;
    this.size = size;
  }

  fetch(slices: Slice[]): Promise<ArrayBuffer[]> {
    return Promise.all(slices.map((slice) => this.read(slice)));
  }

  async fetchSlice(slice: Slice): Promise<Slice & { data: ArrayBuffer }> {
    return { ...slice, data: await this.read(slice) };
  }

  get fileSize(): number {
    return this.size;
  }

  private async read({ offset, length }: Slice): Promise<ArrayBuffer> {
    if (offset >= this.size || (this.strict && offset + length > this.size)) throw new EndsEarly();
    const bytes = new Uint8Array(Math.min(length, this.size - offset));
    await this.handle.read(bytes, 0, bytes.length, offset);
    return bytes.buffer;
  }

  close(): Promise<void> {
    return this.handle.close();
  }
}

/** @throws Problem when the file is not there, is empty, or may not be read. */
export async function openBytes(path: string, name: string): Promise<FileBytes> {
  try {
    const size = statSync(path).size;
    if (size === 0) throw refusal(`${name} is empty`, { file: name, fix: 'download or export it again' });
    return new FileBytes(await open(path, 'r'), size);
  } catch (error) {
    throw unreadable(error, name);
  }
}

/** Turns a failed file operation into a message for the person; passes Problems through. */
export function unreadable(error: unknown, name: string): Problem {
  if (error instanceof Problem) return error;
  const code = (error as NodeJS.ErrnoException).code;
  if (code === 'ENOENT')
    return refusal(`${name} is not there`, { file: name, fix: 'check the path, or put the file back' });
  if (code === 'EACCES' || code === 'EPERM')
    return refusal(`${name} may not be read`, { file: name, fix: 'allow your account to read it' });
  return refusal(`${name} cannot be read (${code ?? (error as Error).message})`, {
    file: name,
    fix: 'check that the disk is connected and the file opens elsewhere',
  });
}

/** SHA-256 of a file in hexadecimal, read as a stream. */
export async function hashFile(path: string, name: string): Promise<string> {
  const hash = createHash('sha256');
  try {
    for await (const chunk of createReadStream(path, { highWaterMark: 1 << 20 }))
      hash.update(chunk as Buffer);
  } catch (error) {
    throw unreadable(error, name);
  }
  return hash.digest('hex');
}
