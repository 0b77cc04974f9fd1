import type { Artifacts } from '../../core/analysis/artifacts.ts';
import type { ReportModel } from '../../core/analysis/report.ts';
import type { Settings } from '../../core/analysis/settings.ts';
import type { Progress } from '../../core/grid/progress.ts';
import type { InputSet } from '../readers/folder.ts';
import { readProperty } from '../readers/property.ts';
import { createProperty } from '../store/property-file.ts';
import { writeOutputs } from '../writers/outputs.ts';

/** Long work with files that must not hold up the service: run in a worker of its own through `runJob`. */
export const JOBS = {
  /** Reads the inputs onto a frame and writes a new property file. */
  async import(
    job: { inputs: InputSet; settings: Partial<Settings>; answers: Record<string, string>; target: string },
    progress: Progress,
  ): Promise<{ path: string }> {
    const { inputs, settings, answers, target } = job;
    const imported = await readProperty(inputs, { settings, answers, progress });
    createProperty(target, imported).close();
    return { path: target };
  },

  /** Writes every deliverable of an analysed property. */
  async outputs(
    job: { folder: string; property: string; artifacts: Artifacts; report: ReportModel },
    progress: Progress,
  ): Promise<{ files: string[] }> {
    const { folder, property, artifacts, report } = job;
    return { files: await writeOutputs(folder, property, artifacts, report, progress) };
  },
};

export type JobName = keyof typeof JOBS;
