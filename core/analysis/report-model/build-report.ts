import type { Frame } from '../../grid/frame.ts';
import { lineNote } from '../../plan/brief.ts';
import { isoToday } from '../../plan/days.ts';
import { planWork } from '../../plan/plan-work.ts';
import type { Gains } from '../../plan/types.ts';
import { walkListOf } from '../../plan/walk-list.ts';
import type { Artifacts } from '../artifacts.ts';
import type { ReportModel } from '../report.ts';
import type { Settings } from '../settings.ts';
import { type Edition, lastOf } from './edition.ts';
import { asKept, editionOf } from './edition-of.ts';
import { type Facts, ownedCells, sayIn } from './facts.ts';
import { airPage } from './pages/air.ts';
import { calendarPage } from './pages/calendar.ts';
import { coverPage } from './pages/cover.ts';
import { firstPage } from './pages/first.ts';
import { frontPage } from './pages/front.ts';
import { glossaryPage } from './pages/glossary.ts';
import { groundPage } from './pages/ground.ts';
import { jobSheets } from './pages/job-sheets.ts';
import { methodsPage } from './pages/methods.ts';
import { overviewPage } from './pages/overview.ts';
import { seasonPage } from './pages/season-sheet.ts';
import { standCards } from './pages/stand-cards.ts';
import { standsPage } from './pages/stands.ts';
import { travelPage } from './pages/travel.ts';
import { walkPage } from './pages/walk.ts';
import { workPage } from './pages/work.ts';
import { NOTHING_FOUND, type StandFindings } from './stand-findings.ts';

/**
 * The report as data, one page a topic, in the user's units. `report.schema.json` beside this file documents its
 * shape.
 *
 * @param notes what the readers noted
 * @param missing what is missing for a better answer, and what it costs
 * @param ownedArea m²; null without a boundary
 * @param made ISO date on the report; today when left out
 * @param gains what each job gains; null while nobody computed it
 * @param found what was computed of stands on demand
 * @param kept what earlier reports said when they left the office, the latest last
 */
export function buildReport(
  frame: Frame,
  settings: Settings,
  artifacts: Artifacts,
  notes: readonly string[],
  missing: readonly string[],
  ownedArea: number | null,
  made: string = isoToday(),
  gains: Gains | null = null,
  found: StandFindings = NOTHING_FOUND,
  kept: readonly Edition[] = [],
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
    work: planWork(artifacts.features, settings.plan, settings.units, gains, made),
    walk: walkListOf(artifacts),
    found,
    last: lastOf(kept, settings.brief.version || '1'),
  };
  const edition = editionOf(facts, made);
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
    paper: settings.brief.paper ?? (settings.units === 'metric' ? 'A4' : 'letter'),
    consultant: settings.brief.consultant,
    client: settings.brief.client,
    lineNote: lineNote(settings.brief),
    work: facts.work,
    walk: facts.walk,
    edition: asKept(edition),
    pages: [
      frontPage(facts, edition),
      overviewPage(facts, edition),
      groundPage(facts),
      coverPage(facts),
      travelPage(facts),
      airPage(facts),
      standsPage(facts),
      ...standCards(facts),
      ...seasonPage(facts),
      workPage(facts),
      calendarPage(facts),
      firstPage(facts),
      ...jobSheets(facts),
      walkPage(facts),
      glossaryPage(),
      methodsPage(facts),
    ],
  };
}
