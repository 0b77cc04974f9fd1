import { mkdir, stat } from 'node:fs/promises';
import { join } from 'node:path';

/** Makes the folder where it is missing, and answers with the path of a file in it that is not there yet. */
export async function freeName(folder: string, stem: string, extension = '.gpkg'): Promise<string> {
  await mkdir(folder, { recursive: true });
  const clean = stem.replace(/[^\p{L}\p{N} _-]+/gu, '').trim() || 'property';
  for (let count = 1; ; count++) {
    const path = join(folder, `${clean}${count > 1 ? ` ${count}` : ''}${extension}`);
    const taken = await stat(path).then(
      () => true,
      () => false,
    );
    if (!taken) return path;
  }
}
