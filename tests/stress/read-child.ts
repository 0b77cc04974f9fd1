import { dirname } from 'node:path';
import { Problem } from '../../core/grid/problem.ts';
import { clipBegan } from '../../electron/readers/clip.ts';
import { readFeatures } from '../../electron/readers/features.ts';
import { emptySet, type InputFile } from '../../electron/readers/inputs.ts';
import { readPhoto } from '../../electron/readers/photo.ts';
import { readProperty } from '../../electron/readers/property.ts';
import { readScan } from '../../electron/readers/scan.ts';
import { readSettings } from '../../electron/readers/settings.ts';
import { readWind } from '../../electron/readers/wind.ts';
import { unpackBackup } from '../../electron/store/backup.ts';
import { openProperty } from '../../electron/store/property-file.ts';

/** Where the vectors of the tests lie. */
const FRAME = {
  epsg: 32616,
  west: 440000,
  north: 4050000,
  cellSize: 10,
  width: 400,
  height: 400,
  longitude: -87.6,
  latitude: 36.6,
  convergence: -0.4,
};

/** As the program reads each: a raster or cloud becomes a property, all the way onto its frame. */
const READINGS = {
  elevation: (file: InputFile) =>
    readProperty({ ...emptySet(file.name), elevation: [file] }, { answers: { verticalUnit: 'metre' } }),
  features: (file: InputFile) => readFeatures(file.path, FRAME),
  wind: (file: InputFile) => readWind([file]),
  photo: (file: InputFile) => readPhoto(file),
  scan: (file: InputFile) => readScan(file),
  clip: (file: InputFile) => clipBegan(file),
  property: ({ path }: InputFile) => {
    const property = openProperty(path);
    property.head();
    property.sources();
    property.display();
    property.results();
    property.close();
  },
  backup: ({ path }: InputFile) => unpackBackup(path, dirname(path), () => {}),
  settings: (file: InputFile) => readSettings(file),
};

export type Reading = keyof typeof READINGS;

export interface ReadAnswer {
  outcome: 'read' | 'refused' | 'thrown';
  /** The message of a refusal, or the stack of anything else thrown. */
  said: string;
  /** Most memory this process ever held, bytes. */
  held: number;
  /** Processor time of this reading, ms. */
  took: number;
}

process.on('message', async ({ reading, file }: { reading: Reading; file: InputFile }) => {
  let outcome: ReadAnswer['outcome'] = 'read';
  let said = '';
  const began = process.cpuUsage();
  try {
    await READINGS[reading](file);
  } catch (error) {
    outcome = error instanceof Problem ? 'refused' : 'thrown';
    said =
      error instanceof Problem ? `${error.message} ${error.fix}` : String((error as Error)?.stack ?? error);
  }
  const { user, system } = process.cpuUsage(began);
  const held = process.resourceUsage().maxRSS * 1024;
  process.send!({ outcome, said, held, took: (user + system) / 1000 } satisfies ReadAnswer);
});
