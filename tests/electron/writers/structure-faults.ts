import { DOMParser, type Element } from '@xmldom/xmldom';
import type { Slot, Structure } from './published-structures.ts';

/**
 * Holds a file to a published structure: every element known, in its namespace, in the order and as often as it may
 * stand, with its attributes, and every text of its type; an id is given once, and what refers to one finds it.
 *
 * @returns what is wrong, each with where; none when all is well
 */
export function structureFaults(text: string, structure: Structure): string[] {
  const faults: string[] = [];
  const document = new DOMParser({
    onError: (level, message) => {
      faults.push(`${level}: ${message}`);
    },
  }).parseFromString(text, 'text/xml');
  const root = document.documentElement;
  if (root?.localName !== structure.root) return [...faults, `the root is ${root?.nodeName}`];
  visit(root, structure, structure.root, faults);
  const ids = [...root.getElementsByTagName('*')].flatMap((element) => element.getAttribute('id') ?? []);
  for (const [index, id] of ids.entries()) if (ids.indexOf(id) !== index) faults.push(`id ${id} twice`);
  for (const element of root.getElementsByTagName('styleUrl')) {
    const wanted = element.textContent ?? '';
    if (wanted.startsWith('#') && !ids.includes(wanted.slice(1))) faults.push(`no style ${wanted}`);
  }
  return faults;
}

function visit(element: Element, structure: Structure, path: string, faults: string[]): void {
  const rule = structure.elements[element.localName!];
  if (!rule) {
    faults.push(`${path}: not known`);
    return;
  }
  if (element.namespaceURI !== structure.namespace)
    faults.push(`${path}: in namespace ${element.namespaceURI}`);
  const attributes = rule.attributes ?? {};
  for (const [name, { required, fits }] of Object.entries(attributes)) {
    const value = element.getAttribute(name);
    if (value === null ? required : !fits(value)) faults.push(`${path}: ${name} is ${value}`);
  }
  for (const { name } of [...element.attributes])
    if (!name.startsWith('xmlns') && !(name in attributes)) faults.push(`${path}: attribute ${name}`);
  const children = [...element.childNodes].filter((node): node is Element => node.nodeType === 1);
  const own = [...element.childNodes].filter(({ nodeType }) => nodeType === 3 || nodeType === 4);
  const text = own.map(({ nodeValue }) => nodeValue).join('');
  if (!rule.text && text.trim() !== '') faults.push(`${path}: text between its elements`);
  if (rule.text && !rule.text(text)) faults.push(`${path}: ${text}`);
  faults.push(
    ...orderFaults(
      children.map(({ localName }) => localName!),
      rule.children,
      path,
    ),
  );
  for (const [index, child] of children.entries())
    visit(child, structure, `${path}/${child.localName}[${index}]`, faults);
}

function orderFaults(names: readonly string[], slots: readonly Slot[], path: string): string[] {
  const faults: string[] = [];
  let next = 0;
  for (const slot of slots) {
    let found = 0;
    while (found < slot.most && next < names.length && slot.names.includes(names[next]!)) {
      found++;
      next++;
    }
    if (found < slot.least) faults.push(`${path}: no ${slot.names.join(' or ')}`);
  }
  if (next < names.length) faults.push(`${path}: ${names[next]} may not stand there`);
  return faults;
}
