import { mkdtemp, rm } from 'node:fs/promises';
import { availableParallelism, tmpdir } from 'node:os';
import { basename, extname, join, resolve } from 'node:path';
import { buildReport } from '../../core/analysis/report-model/build-report.ts';
import { ownedArea } from '../../core/features/owned-area.ts';
import { jobsTried } from '../../core/plan/job-trial.ts';
import { listInputs } from '../readers/folder.ts';
import { openStore } from '../store/store-client.ts';
import { runJob } from '../workers/run-job.ts';
import { createStepPool, type StepPool } from '../workers/step-pool.ts';
import { checkWritable } from '../writers/outputs.ts';
import { computeGains } from './gains.ts';
import { compareStands } from './handlers/stands-search.ts';
import { makeSheet } from './handlers/verdict.ts';
import { createInquiring } from './inquiring.ts';
import { noteKeys, type OpenProperty, openProperty } from './open-property.ts';
import { planScout, runScout } from './scout.ts';
import { foundOf } from './stand-findings.ts';
import { gainsOf } from './work-plan.ts';

export interface AnalyzeOptions {
  workers?: number;
  /** Judges every stand over the season as well: verdict, ways in, season sheet, and what each job gains. */
  season?: boolean;
  /** One line of progress in plain words. */
  progress(line: string): void;
}

/**
 * The whole job without a window: reads a folder, a raster or a property file, runs every step and writes every
 * deliverable.
 *
 * @returns the paths of the files written and the readers' notes
 * @throws Problem when the input is wrong or the output cannot be written; nothing is half written then
 */
export async function analyzeProperty(
  input: string,
  out: string | null,
  options: AnalyzeOptions,
): Promise<{ files: string[]; notes: string[] }> {
  const { progress } = options;
  const name = basename(input, extname(input)) || 'property';
  const folder = resolve(out ?? join('out', name));
  await checkWritable(folder);
  const scratch = await mkdtemp(join(tmpdir(), 'hollowgate-'));
  const pool = createStepPool(options.workers ?? Math.min(8, availableParallelism()));
  try {
    const path = await propertyFile(input, scratch, progress);
    const property = await openProperty(path);
    const { frame, settings, sources } = property.input;
    const { notes, missing } = property.head;
    progress(`${settings.name}: ${frame.width} x ${frame.height} cells of ${frame.cellSize} m`);
    const plan = planScout(property.input);
    let said = '';
    const artifacts = await runScout(
      property.input,
      plan,
      { pool, cache: null, seconds: {} },
      new SharedArrayBuffer(4),
      {
        progress(fraction, doing) {
          const line = `${String(Math.round(fraction * 100)).padStart(3)} %  ${doing}`;
          if (doing !== '' && line !== said) progress(line);
          said = line;
        },
        stepDone(planned, _fromCache, seconds) {
          noteKeys(property, planned);
          progress(`       ${planned.step.title} took ${seconds.toFixed(1)} s`);
        },
      },
      property.artifacts,
    );
    if (options.season) await judgeSeason(property, pool, progress);
    // What the steps worked in is given back before the results take their room.
    await pool.close();
    await property.store.saveResults(artifacts);
    const report = buildReport(
      frame,
      settings,
      artifacts,
      notes,
      missing,
      ownedArea(sources.features),
      undefined,
      gainsOf(property),
      foundOf(property),
      property.head.editions,
    );
    await property.store.keepEdition(report.edition);
    await property.store.close();
    progress('       Writing results');
    const { files } = await runJob('outputs', { folder, property: path, artifacts, report });
    return { files, notes };
  } finally {
    await pool.close();
    await rm(scratch, { recursive: true, force: true });
  }
}

/** Worlds of drawn weights a job’s band is over: our choice. */
const WORLDS = 8;

/** Verdicts, ways in and season sheet of every stand and what jobs gain, kept with the property for its report. */
async function judgeSeason(
  property: OpenProperty,
  pool: StepPool,
  progress: AnalyzeOptions['progress'],
): Promise<void> {
  if (!property.input.sources.features.some(({ kind }) => kind === 'stand')) {
    progress('       No stand is on the map, so no season was judged');
    return;
  }
  const context = { property, inquiring: createInquiring(pool, () => {}) };
  for (const [title, judge] of [
    ['Judging every stand', () => compareStands(context, null)],
    ['Making the season sheet', () => makeSheet(context)],
  ] as const) {
    const { seconds } = await judge();
    progress(`       ${title} took ${seconds.toFixed(1)} s`);
  }
  if (jobsTried(property.input.sources.features).length === 0) return;
  const started = performance.now();
  await computeGains(context, property, WORLDS);
  progress(`       Trying every job took ${((performance.now() - started) / 1000).toFixed(1)} s`);
}

/** A property file in the scratch folder: a copy of the one given, or one imported from the inputs. */
async function propertyFile(
  input: string,
  scratch: string,
  progress: (line: string) => void,
): Promise<string> {
  const target = join(scratch, 'property.gpkg');
  if (extname(input).toLowerCase() === '.gpkg') {
    const store = await openStore(input);
    await store.copyTo(target);
    await store.close();
    return target;
  }
  progress(`Reading ${input}`);
  await runJob('import', { inputs: await listInputs(input), settings: {}, answers: {}, target });
  return target;
}
