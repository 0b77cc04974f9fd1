import { computed, signal } from '@preact/signals';
import type { PropertySummary } from '../../electron/service/contract.ts';
import { troubleOf } from '../connection/trouble.ts';
import { airLeaf } from './air-asks.ts';
import { isPicture, pinPicture } from './pictures.ts';
import { answering, choose } from './questions.ts';
import { ask, asksUnderWay, markUnderWay, notice, report, summary, tell } from './session.ts';
import { goTo, selection, startOpen } from './view.ts';

/** Ways to a property: the sample, a path, a system dialog, dropped files. */

/** Set while the service works on opening or taking in files; says what. */
export const opening = signal<string | null>(null);

/** The name under which the service tells how far the reading of files has come. */
const READING = 'import';

/** How far the reading of files has come, once the service says so, and the way to stop it. */
export const reading = {
  progress: computed(() => (opening.value === null ? null : asksUnderWay.value[READING] || null)),
  takeBack: () => void tell('ask.cancel', { ask: READING }),
};

async function open(
  doing: string,
  work: () => Promise<PropertySummary | null>,
  said = (opened: PropertySummary) => `${opened.name} is open.`,
): Promise<void> {
  if (opening.value) return;
  opening.value = doing;
  markUnderWay(READING, true);
  try {
    const opened = await work();
    if (opened) {
      selection.value = null;
      summary.value = opened;
      startOpen.value = false;
      notice.value = said(opened);
    }
  } catch (reason) {
    if (troubleOf(reason).kind === 'cancelled') notice.value = 'Stopped. Nothing was changed.';
    else report(reason);
  } finally {
    markUnderWay(READING, false);
    opening.value = null;
  }
}

export const openSample = (): Promise<void> =>
  open('Opening the sample', () => ask('property.openSample', {}));

export const openPath = (path: string): Promise<void> =>
  open(`Opening ${path}`, () => answering((answers) => ask('property.open', { path, answers })));

export const pick = (what: 'folder' | 'file'): Promise<void> =>
  open('Opening', () =>
    answering((answers, path) =>
      path === undefined ? ask('property.pick', { what }) : ask('property.open', { path, answers }),
    ),
  );

const CHUNK = 8 * 1024 * 1024;

/** Sends dropped files in parts of 8 MB, then makes a property of them, asking whatever the files do not say. */
export async function takeIn(files: readonly File[]): Promise<void> {
  if (files.length === 0) return;
  let into: 'new' | 'open' = 'new';
  if (summary.value) {
    const pictures = files.length === 1 && files.every(isPicture);
    const answer = await choose(
      files.length === 1 ? `Take in ${files[0]!.name}` : `Take in ${files.length} files`,
      `Does this belong to ${summary.value.name}, or is it a new property?`,
      [
        { value: 'open', label: `Add to ${summary.value.name}` },
        ...(pictures ? [{ value: 'pin', label: 'Pin it over the map' }] : []),
        { value: 'new', label: 'Start a new property' },
      ],
    );
    if (answer === null) return;
    if (answer === 'pin') return pinFile(files[0]!);
    into = answer === 'open' ? 'open' : 'new';
  }
  await takeInto(into, files);
}

/** The same where it is known what the files belong to. What is added to the open property is said in one line. */
export async function takeInto(into: 'new' | 'open', files: readonly File[]): Promise<void> {
  if (files.length === 0) return;
  const before = summary.peek();
  await open(
    'Reading files',
    async () => {
      const { staging } = await ask('import.begin', {});
      for (const file of files) await send(staging, file);
      return finish(staging, into);
    },
    into === 'open' && before ? (after) => added(before, after) : undefined,
  );
}

/** Says what adding files changed; where it is the wind, what was kept of it is shown. */
function added(before: PropertySummary, { name, wind }: PropertySummary): string {
  if (!wind || wind.key === before.wind?.key) return `Added to ${name}. Undo takes it back.`;
  goTo('air');
  airLeaf.value = 'wind';
  return `Wind of ${wind.station}: ${wind.hours.toLocaleString('en-US')} hours are in force. Undo takes it back.`;
}

/** Keeps a scan or photo of the open property, to be pinned over the map. */
export async function pinFile(file: File): Promise<void> {
  if (opening.value) return;
  opening.value = `Reading ${file.name}`;
  try {
    const { staging } = await ask('import.begin', {});
    await send(staging, file);
    await pinPicture(file.name, staging);
  } catch (reason) {
    report(reason);
  } finally {
    opening.value = null;
  }
}

async function send(staging: string, file: File): Promise<void> {
  let sent = 0;
  do {
    const end = Math.min(sent + CHUNK, file.size);
    const bytes = new Uint8Array(await file.slice(sent, end).arrayBuffer());
    await ask('import.file', { staging, name: file.name, last: end === file.size }, bytes);
    sent = end;
    opening.value = `Reading ${file.name}${file.size > CHUNK ? `, ${Math.round((100 * sent) / file.size)} %` : ''}`;
  } while (sent < file.size);
}

const finish = (staging: string, into: 'new' | 'open'): Promise<PropertySummary | null> =>
  answering((answers) => {
    opening.value = 'Bringing everything onto one grid';
    return ask('import.finish', { staging, into, answers });
  });

/** All files of a drop, folders gone through to the bottom. */
export async function filesOf(transfer: DataTransfer): Promise<File[]> {
  const entries = [...transfer.items]
    .map((item) => item.webkitGetAsEntry())
    .filter((entry) => entry !== null);
  if (entries.length === 0) return [...transfer.files];
  const files: File[] = [];
  const walk = async (entry: FileSystemEntry): Promise<void> => {
    if (entry.isFile) {
      files.push(
        await new Promise<File>((resolve, reject) => (entry as FileSystemFileEntry).file(resolve, reject)),
      );
      return;
    }
    const reader = (entry as FileSystemDirectoryEntry).createReader();
    for (;;) {
      const batch = await new Promise<FileSystemEntry[]>((resolve, reject) =>
        reader.readEntries(resolve, reject),
      );
      if (batch.length === 0) return;
      for (const child of batch) await walk(child);
    }
  };
  for (const entry of entries) await walk(entry);
  return files;
}
