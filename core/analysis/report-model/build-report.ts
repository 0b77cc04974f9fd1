import type { Frame } from '../../grid/frame.ts';
import type { Artifacts } from '../artifacts.ts';
import type { ReportModel } from '../report.ts';
import type { Settings } from '../settings.ts';
import { type Facts, ownedCells, sayIn } from './facts.ts';
import { airPage } from './pages/air.ts';
import { coverPage } from './pages/cover.ts';
import { groundPage } from './pages/ground.ts';
import { methodsPage } from './pages/methods.ts';
import { overviewPage } from './pages/overview.ts';
import { standsPage } from './pages/stands.ts';
import { travelPage } from './pages/travel.ts';

/**
 * The report as data, one page a topic, in the user's units. `report.schema.json` beside this file documents its
 * shape.
 *
 * @param notes what the readers noted
 * @param missing what is missing for a better answer, and what it costs
 * @param ownedArea m²; null without a boundary
 * @param made ISO date on the report; today when left out
 */
export function buildReport(
  frame: Frame,
  settings: Settings,
  artifacts: Artifacts,
  notes: readonly string[],
  missing: readonly string[],
  ownedArea: number | null,
  made: string = new Date().toISOString().slice(0, 10),
): ReportModel {
  const facts: Facts = {
    frame,
    settings,
    artifacts,
    notes,
    missing,
    ownedArea,
    owned: ownedCells(frame, artifacts.features),
    say: sayIn(settings.units),
  };
  return {
    version: 1,
    property: {
      name: settings.name,
      invented: settings.invented,
      epsg: frame.epsg,
      cellSize: frame.cellSize,
      longitude: frame.longitude,
      latitude: frame.latitude,
      ownedArea,
    },
    made,
    units: settings.units,
    pages: [
      overviewPage(facts),
      groundPage(facts),
      coverPage(facts),
      travelPage(facts),
      airPage(facts),
      standsPage(facts),
      methodsPage(facts),
    ],
  };
}
