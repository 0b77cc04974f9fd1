import type { StandRisk } from '../../../stands/types.ts';
import type { ReportPage } from '../../report.ts';
import { CAUTIONS } from '../cautions.ts';
import { type Facts, position, WHOSE } from '../facts.ts';
import { left, right, table } from '../table.ts';
import { reachesTable } from './stand-reach.ts';

const ORDER: StandRisk['level'][] = ['high', 'caution', 'unknown', 'low'];

export function standsPage(facts: Facts): ReportPage {
  const { artifacts, say } = facts;
  const risks = [...artifacts.standRisks].sort((a, b) => ORDER.indexOf(a.level) - ORDER.indexOf(b.level));
  const forNecks = risks.length > 0 && risks[0]!.subject.type === 'neck';
  return {
    topic: 'stands',
    title: 'Stands',
    map: {
      grids: ['shade', 'cold-air'],
      lines: ['features', 'corridors', 'necks', 'carries', 'stand-risks'],
    },
    paragraphs: [
      risks.length === 0
        ? 'There is no stand and no neck to judge.'
        : forNecks
          ? 'No stand was given, so the best necks are judged as if one hung there.'
          : 'Each stand is judged for a clear calm night and dawn: does it sit in still cold air, and does its scent run with the drainage onto bedding or travel.',
    ],
    tables: [
      ...reachesTable(facts),
      ...table(
        'Night and dawn air at each stand, the worst first',
        [
          left('Stand'),
          left('Risk'),
          left('Where'),
          left('Whose ground'),
          right('Pool depth'),
          left('In one line'),
        ],
        risks.map((risk) => [
          risk.subject.name,
          risk.level,
          position(risk.at),
          WHOSE[risk.owner],
          risk.inPool ? say.height(risk.poolDepth) : 'none',
          risk.verdict,
        ]),
      ),
      ...table(
        'Why',
        [left('Stand'), left('Reasons')],
        risks
          .filter(({ reasons }) => reasons.length > 0)
          .map(({ subject, reasons }) => [subject.name, reasons.join(' ')]),
      ),
    ],
    doubts: [
      ...new Set(risks.flatMap(({ doubts }) => doubts)),
      'How many hours a wind allows, the clean share and the ways in are not in this report: lay the stands side by side and make the season sheet in the window.',
    ],
    cautions: [CAUTIONS.firearms, CAUTIONS.climbing, CAUTIONS.season],
  };
}
