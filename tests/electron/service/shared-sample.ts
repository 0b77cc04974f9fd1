import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { TestProject } from 'vitest/node';

declare module 'vitest' {
  export interface ProvidedContext {
    /** Where the first test that scouts the sample leaves it for the others of the same run. */
    scoutedSample: string;
  }
}

export default function setup({ provide }: TestProject): () => void {
  const folder = mkdtempSync(join(tmpdir(), 'scouted-sample-'));
  provide('scoutedSample', folder);
  return () => rmSync(folder, { recursive: true, force: true });
}
