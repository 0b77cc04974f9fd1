import { readFileSync, statSync } from 'node:fs';
import { createLazPerf } from 'laz-perf';
import type { PointCloud, RecordSink } from './las.ts';
import { refusal } from './refusal.ts';

/** The part of laz-perf (WebAssembly) that is used. */
interface LazPerf {
  HEAPU8: Uint8Array;
  _malloc(bytes: number): number;
  _free(at: number): void;
  LASZip: new () => {
    open(at: number, bytes: number): void;
    getPoint(at: number): void;
    delete(): void;
  };
}

/** The whole packed file lies in the unpacker's memory, which ends at 2 GB. */
const LARGEST = 1.4e9;

let unpacker: Promise<LazPerf> | null = null;

/** One unpacker a process. It hangs listeners on the process that end it when anything anywhere fails; off with them. */
function lazPerf(): Promise<LazPerf> {
  const events = ['uncaughtException', 'unhandledRejection'] as const;
  const before = events.map((event) => new Set(process.listeners(event as 'uncaughtException')));
  unpacker ??= (createLazPerf as unknown as () => Promise<LazPerf>)();
  events.forEach((event, i) => {
    for (const listener of process.listeners(event as 'uncaughtException'))
      if (!before[i]!.has(listener)) process.off(event, listener);
  });
  return unpacker;
}

/**
 * Records of a LAZ file, unpacked by laz-perf, in blocks.
 * @throws Problem when the file is too large to unpack at once, or damaged
 */
export async function readPackedRecords(cloud: PointCloud, sink: RecordSink): Promise<void> {
  const { name, path } = cloud.file;
  const { size } = statSync(path);
  if (size > LARGEST)
    throw refusal(`${name} is ${(size / 1e9).toFixed(1)} GB, too large to unpack at once`, {
      file: name,
      fix: 'clip it to the property and half a mile around, or give its tiles instead',
    });
  const packed = readFileSync(path);
  const laz = await lazPerf();
  const perBlock = 1 << 14;
  const block = new Uint8Array(perBlock * cloud.recordBytes);
  const file = laz._malloc(packed.length);
  const point = laz._malloc(cloud.recordBytes);
  const reader = new laz.LASZip();
  try {
    laz.HEAPU8.set(packed, file);
    reader.open(file, packed.length);
    for (let first = 0; first < cloud.count; first += perBlock) {
      const count = Math.min(perBlock, cloud.count - first);
      for (let i = 0; i < count; i++) {
        reader.getPoint(point);
        // The heap may have grown and moved, so it is looked up each time.
        block.set(laz.HEAPU8.subarray(point, point + cloud.recordBytes), i * cloud.recordBytes);
      }
      sink(new DataView(block.buffer), count);
    }
    reader.delete();
    laz._free(point);
    laz._free(file);
  } catch (error) {
    // What the unpacker threw may have left it broken: the next file gets a new one.
    unpacker = null;
    if (error instanceof Error && error.name !== 'RuntimeError' && !('ptr' in error)) throw error;
    throw refusal(`${name} is damaged: its points cannot be unpacked`, {
      file: name,
      fix: 'download it again',
    });
  }
}
