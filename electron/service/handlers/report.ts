import { mkdir, mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { basename, dirname, join } from 'node:path';
import type { Artifacts } from '../../../core/analysis/artifacts.ts';
import { buildReport } from '../../../core/analysis/report-model/build-report.ts';
import { STEPS } from '../../../core/analysis/step-table.ts';
import { ownedArea } from '../../../core/features/owned-area.ts';
import { Problem } from '../../../core/grid/problem.ts';
import { ASSUMPTION_SUBJECTS, subjectOf } from '../../../core/travel/assumption-groups.ts';
import { travelAssumptions } from '../../../core/travel/assumptions.ts';
import type { Assumption } from '../../../core/travel/types.ts';
import { runJob } from '../../workers/run-job.ts';
import { type Handlers, opened } from '../context.ts';
import type { OpenProperty } from '../open-property.ts';
import { gainsOf } from '../work-plan.ts';

const isComplete = ({ artifacts }: OpenProperty): boolean =>
  STEPS.every((step) => (step.makes as (keyof Artifacts)[]).every((made) => made in artifacts));

function modelOf(property: OpenProperty) {
  if (!isComplete(property)) return null;
  const { input, artifacts, head } = property;
  const { notes, missing } = head;
  return buildReport(
    input.frame,
    input.settings,
    artifacts as Artifacts,
    notes,
    missing,
    ownedArea(input.sources.features),
    undefined,
    gainsOf(property),
  );
}

export const reportHandlers: Handlers<'report.model' | 'export.all' | 'travel.assumptions'> = {
  'report.model': async (context) => modelOf(opened(context)),

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
    const report = modelOf(property);
    if (!report) {
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
    const artifacts = property.artifacts as Artifacts;
    const scratch = await mkdtemp(join(tmpdir(), 'hollowgate-'));
    try {
      // A copy made by the store itself is whole; the open file may be in the middle of a save.
      const copy = join(scratch, 'property.gpkg');
      await property.store.copyTo(copy);
      const { files } = await runJob('outputs', { folder: target, property: copy, artifacts, report });
      return { folder: target, files };
    } finally {
      await rm(scratch, { recursive: true, force: true });
    }
  },
};
