import { Worker } from 'node:worker_threads';
import { unpackTrouble } from '../workers/worker-trouble.ts';
import { workerUrl } from '../workers/worker-url.ts';
import type { PropertyFile } from './property-file.ts';
import { resultParts } from './result-parts.ts';
import type { StoreAnswer, StoreMethod } from './store-worker.ts';

/** The property file from another thread: every call is answered in order by the store's worker. */
export type StoreClient = {
  [M in keyof PropertyFile]: (
    ...parameters: Parameters<PropertyFile[M]>
  ) => Promise<ReturnType<PropertyFile[M]>>;
};

interface Waiting {
  resolve(value: unknown): void;
  reject(reason: Error): void;
}

/**
 * Opens a property file in a worker of its own. Grids come back on shared memory, so handing them on copies nothing.
 *
 * @throws Problem as `openProperty` does
 */
export async function openStore(path: string): Promise<StoreClient> {
  const worker = new Worker(workerUrl('store-worker', import.meta.url), { workerData: { path } });
  const waiting = new Map<number, Waiting>();
  let ended: Error | null = null;
  let calls = 0;

  const end = (reason: Error): void => {
    ended ??= reason;
    for (const { reject } of waiting.values()) reject(ended);
    waiting.clear();
  };
  worker.on('message', (answer: StoreAnswer) => {
    const call = waiting.get(answer.id);
    waiting.delete(answer.id);
    if (answer.type === 'done') call?.resolve(answer.value);
    else call?.reject(unpackTrouble(answer.trouble));
  });
  worker.on('error', end);
  worker.on('exit', () => end(new Error('the property file is closed')));

  const answerTo = (id: number): Promise<unknown> =>
    new Promise((resolve, reject) => {
      if (ended) reject(ended);
      else waiting.set(id, { resolve, reject });
    });
  // The opening answers as call 0.
  await answerTo(calls++);

  const call =
    (method: StoreMethod) =>
    (...parameters: unknown[]): Promise<unknown> => {
      const id = calls++;
      const answer = answerTo(id);
      if (!ended) worker.postMessage({ id, method, parameters });
      return answer;
    };
  const methods: Record<StoreMethod, true> = {
    head: true,
    sources: true,
    display: true,
    putFeature: true,
    putFeatures: true,
    removeFeature: true,
    keepMedia: true,
    media: true,
    wind: true,
    keepWind: true,
    keepEdition: true,
    changeSettings: true,
    change: true,
    undo: true,
    redo: true,
    saveResults: true,
    saveResultPart: true,
    results: true,
    copyTo: true,
    close: true,
  };
  const store = Object.fromEntries(
    (Object.keys(methods) as StoreMethod[]).map((method) => [method, call(method)]),
  ) as unknown as StoreClient;
  return {
    ...store,
    async saveResults(artifacts) {
      // Part by part, so that edits that come meanwhile are answered in between.
      for (const part of resultParts(artifacts)) await store.saveResultPart(part);
    },
  };
}
