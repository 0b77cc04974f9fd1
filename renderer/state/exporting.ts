import { effect, signal } from '@preact/signals';
import { chosen, run, tell } from './session.ts';
import { stage } from './view.ts';

/** What was written last. */
export const written = signal<{ folder: string; files: string[] } | null>(null);
export const writing = signal(false);

/** Writes everything to the property's own folder, unless it is being written or the scout is not done. */
export async function exportAll(): Promise<void> {
  if (writing.peek() || run.peek() !== null) return;
  writing.value = true;
  try {
    written.value = await tell('export.all', { folder: null });
  } finally {
    writing.value = false;
  }
}

effect(() => {
  if (chosen.value !== 'export') return;
  chosen.value = null;
  stage.value = 'report';
  void exportAll();
});
