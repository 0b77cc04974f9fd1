import { dayOf, isoOf } from './days.ts';
import type { Calendar, Job } from './types.ts';

/** Text values: RFC 5545, section 3.3.11. */
const escaped = (text: string): string =>
  text.replace(/[\\;,]/g, (sign) => `\\${sign}`).replace(/\r?\n/g, '\\n');

/** Lines of at most 75 octets, the rest on lines that begin with a space: RFC 5545, section 3.1. */
export function folded(line: string): string {
  const parts: string[] = [];
  let part = '';
  let size = 0;
  for (const sign of line) {
    const code = sign.codePointAt(0)!;
    const octets = code < 0x80 ? 1 : code < 0x800 ? 2 : code < 0x10000 ? 3 : 4;
    if (size + octets > 75) {
      parts.push(part);
      part = ' ';
      size = 1;
    }
    part += sign;
    size += octets;
  }
  return [...parts, part].join('\r\n');
}

const basic = (iso: string): string => iso.replaceAll('-', '');

/**
 * The dated jobs as an iCalendar object (RFC 5545): one all-day event a job, its end the day after the last, as the
 * standard has it (section 3.6.1), and the first sit.
 *
 * @param stamp when the file is made, an ISO date
 * @param property name, and a word that tells this property's events from another's
 */
export function iCalendarOf(
  calendar: Calendar,
  jobs: readonly Job[],
  property: { name: string; key: string },
  stamp: string,
): string {
  const made = `${basic(stamp.slice(0, 10))}T000000Z`;
  const names = new Map(jobs.map((job) => [job.id, job]));
  const event = (uid: string, from: string, to: string, summary: string, description: string): string[] => [
    'BEGIN:VEVENT',
    `UID:${uid}`,
    `DTSTAMP:${made}`,
    `DTSTART;VALUE=DATE:${basic(from)}`,
    `DTEND;VALUE=DATE:${basic(isoOf(dayOf(to) + 1))}`,
    `SUMMARY:${escaped(summary)}`,
    `DESCRIPTION:${escaped(description)}`,
    'TRANSP:TRANSPARENT',
    'END:VEVENT',
  ];
  const uid = (part: string): string =>
    `${property.key}-${part}`.replace(/[^A-Za-z0-9-]+/g, '-').concat('@hollowgate.invalid');
  const lines = [
    'BEGIN:VCALENDAR',
    'VERSION:2.0',
    'PRODID:-//Hollowgate//Work calendar//EN',
    'CALSCALE:GREGORIAN',
    `NAME:${escaped(`${property.name}: work`)}`,
    ...calendar.jobs.flatMap(({ job, from, to, reasons }) =>
      from && to
        ? event(
            uid(`job-${job}`),
            from,
            to,
            `${property.name}: ${names.get(job)?.name ?? job}`,
            reasons.join('\n'),
          )
        : [],
    ),
    ...event(
      uid(`first-sit-${calendar.firstSit}`),
      calendar.firstSit,
      calendar.firstSit,
      `${property.name}: first sit`,
      'Everything is in place; local law sets the season.',
    ),
    'END:VCALENDAR',
  ];
  return `${lines.map(folded).join('\r\n')}\r\n`;
}
