import { mkdir, mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { basename, dirname, join } from 'node:path';
import type { Artifacts } from '../../../core/analysis/artifacts.ts';
import type { ReportModel } from '../../../core/analysis/report.ts';
import { buildReport } from '../../../core/analysis/report-model/build-report.ts';
import { STEPS } from '../../../core/analysis/step-table.ts';
import { ownedArea } from '../../../core/features/owned-area.ts';
import { Problem } from '../../../core/grid/problem.ts';
import { ASSUMPTION_SUBJECTS, subjectOf } from '../../../core/travel/assumption-groups.ts';
import { travelAssumptions } from '../../../core/travel/assumptions.ts';
import type { Assumption } from '../../../core/travel/types.ts';
import { openStore } from '../../store/store-client.ts';
import { runJob } from '../../workers/run-job.ts';
import { type Handlers, opened, type ServiceContext } from '../context.ts';
import type { OpenProperty } from '../open-property.ts';
import { foundOf } from '../stand-findings.ts';
import { currentReaches } from '../stand-reaches.ts';
import { gainsOf } from '../work-plan.ts';

const isComplete = ({ artifacts }: OpenProperty): boolean =>
  STEPS.every((step) => (step.makes as (keyof Artifacts)[]).every((made) => made in artifacts));

/** Everything there is, with what stands reach by the settings as they are now. */
const artifactsOf = async (context: ServiceContext, property: OpenProperty): Promise<Artifacts> => ({
  ...(property.artifacts as Artifacts),
  standReaches: await currentReaches(context, property),
});

function modelOf(property: OpenProperty, artifacts: Artifacts) {
  const { input, head } = property;
  const { notes, missing } = head;
  return buildReport(
    input.frame,
    input.settings,
    artifacts,
    notes,
    missing,
    ownedArea(input.sources.features),
    undefined,
    gainsOf(property),
    foundOf(property),
    head.editions,
  );
}

/** In a property file that nobody has open. */
async function keepEdition(path: string, { edition }: ReportModel): Promise<void> {
  const store = await openStore(path);
  try {
    await store.keepEdition(edition);
  } finally {
    await store.close();
  }
}

export const reportHandlers: Handlers<'report.model' | 'export.all' | 'travel.assumptions'> = {
  'report.model': async (context) => {
    const property = opened(context);
    if (!isComplete(property)) return null;
    return modelOf(property, await artifactsOf(context, property));
  },

  'travel.assumptions': async (context) => {
    const { artifacts, input } = opened(context);
    const { weights, travel } = input.settings;
    const valuesOf = (rows: readonly Assumption[]) => new Map(rows.map(({ key, value }) => [key, value]));
    const usual = valuesOf(travelAssumptions({}));
    const ofSet = valuesOf(travelAssumptions({}, travel.set, travel.fitted));
    const order = Object.keys(ASSUMPTION_SUBJECTS);
    return (artifacts.assumptions ?? [])
      .map((row) => ({
        ...row,
        subject: subjectOf(row.key),
        changed: row.key in weights,
        ofSet: ofSet.get(row.key) ?? row.value,
        usual: usual.get(row.key) ?? row.value,
      }))
      .sort((a, b) => order.indexOf(a.subject) - order.indexOf(b.subject));
  },

  'export.all': async (context, { folder }) => {
    const property = opened(context);
    if (!isComplete(property)) {
      throw new Problem('There is nothing to export yet.', {
        fix: 'Wait until the scout has finished, then export.',
      });
    }
    const target = folder ?? join(dirname(property.path), `${basename(property.path, '.gpkg')} export`);
    await mkdir(target, { recursive: true }).catch((error: Error) => {
      throw new Problem(`The folder ${target} cannot be made: ${error.message}.`, {
        file: target,
        fix: 'Choose a folder you may write to.',
      });
    });
    const artifacts = await artifactsOf(context, property);
    const report = modelOf(property, artifacts);
    const scratch = await mkdtemp(join(tmpdir(), 'hollowgate-'));
    try {
      // A copy made by the store itself is whole; the open file may be in the middle of a save.
      const copy = join(scratch, 'property.gpkg');
      await property.store.copyTo(copy);
      await keepEdition(copy, report);
      const { files } = await runJob('outputs', { folder: target, property: copy, artifacts, report });
      // What left the office is what the next report is compared with.
      await property.store.keepEdition(report.edition);
      property.head = await property.store.head();
      return { folder: target, files };
    } finally {
      await rm(scratch, { recursive: true, force: true });
    }
  },
};
