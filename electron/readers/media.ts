import { readFileSync, statSync } from 'node:fs';
import { extname } from 'node:path';
import type { InputFile } from './inputs.ts';
import { refusal } from './refusal.ts';
import { unreadable } from './source.ts';

/** Pictures kept in the property, and clips of which only time and name are kept. */
const PHOTO_TYPES: Record<string, string> = {
  '.jpg': 'image/jpeg',
  '.jpeg': 'image/jpeg',
  '.heic': 'image/heic',
};
const CLIPS = new Set(['.mp4', '.mov', '.m4v', '.m4a']);

const extension = (name: string): string => extname(name).toLowerCase();
export const isPhoto = (name: string): boolean => extension(name) in PHOTO_TYPES;
export const isClip = (name: string): boolean => CLIPS.has(extension(name));
export const photoType = (name: string): string => PHOTO_TYPES[extension(name)] ?? 'application/octet-stream';

/** Larger ones would swell the property file, which is mailed. */
const LARGEST_PHOTO = 15e6;

/** @throws Problem when the file cannot be read, is empty or too large to keep */
export function checkedBytes({ name, path }: InputFile): Uint8Array {
  try {
    const { size } = statSync(path);
    if (size === 0) throw refusal(`${name} is empty`, { file: name, fix: 'copy it from the camera again' });
    if (size > LARGEST_PHOTO)
      throw refusal(`${name} is ${(size / 1e6).toFixed(0)} MB; photos up to 15 MB are kept`, {
        file: name,
        fix: 'save a smaller copy with its position kept',
      });
    return readFileSync(path);
  } catch (error) {
    throw unreadable(error, name);
  }
}
