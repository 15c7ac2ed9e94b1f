import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';
import ts from 'typescript';
import { describe, expect, test } from 'vitest';

const root = fileURLToPath(new URL('../..', import.meta.url));
const project = join(root, 'core/tsconfig.json');
const { config } = ts.readConfigFile(project, ts.sys.readFile) as { config: object };
const { options, fileNames } = ts.parseJsonConfigFileContent(config, ts.sys, dirname(project));
const parsed = new Map<string, ts.SourceFile | undefined>();

/** core's own project with one file replaced or added in memory, checked as `tsc -p core` does. */
function complaints(path: string, text: string): string[] {
  const file = join(root, path);
  const host = ts.createCompilerHost(options);
  const read = host.getSourceFile.bind(host);
  host.getSourceFile = (name, target) => {
    if (name === file) return ts.createSourceFile(name, text, target);
    if (!parsed.has(name)) parsed.set(name, read(name, target));
    return parsed.get(name);
  };
  host.fileExists = (name) => name === file || ts.sys.fileExists(name);
  const program = ts.createProgram({ rootNames: [...new Set([...fileNames, file])], options, host });
  const source = program.getSourceFile(file);
  return program
    .getSemanticDiagnostics(source)
    .map(({ messageText }) => ts.flattenDiagnosticMessageText(messageText, ' '));
}

interface Plant {
  what: string;
  path: string;
  text: string;
}

const nodesOf = (source: ts.SourceFile): ts.Node[] => {
  const nodes: ts.Node[] = [];
  const walk = (node: ts.Node): void => {
    nodes.push(node);
    node.forEachChild(walk);
  };
  walk(source);
  return nodes;
};

const without = (text: string, node: ts.Node) =>
  text.slice(0, node.getFullStart()) + text.slice(node.getEnd()).replace(/^,/, '');

/** `{ … } satisfies Record<Kind, …>` or `satisfies { [K in Kind]: … }`: what each of them lacks after losing a line. */
function lostEntry(node: ts.Node, text: string): { what: string; text: string } | null {
  if (!ts.isSatisfiesExpression(node)) return null;
  const type = node.type.getText();
  if (!ts.isMappedTypeNode(node.type) && !type.startsWith('Record<')) return null;
  if (type.startsWith('Record<string')) return null;
  const literal = ts.isAsExpression(node.expression) ? node.expression.expression : node.expression;
  if (!ts.isObjectLiteralExpression(literal)) return null;
  const entry = literal.properties.find((one) => !ts.isSpreadAssignment(one));
  return entry ? { what: `${type} without ${entry.name?.getText() ?? ''}`, text: without(text, entry) } : null;
}

/** A switch that ends with `never`, robbed of its first case. */
function lostCase(node: ts.Node, text: string): { what: string; text: string } | null {
  if (!ts.isSwitchStatement(node) || !/\bnever\b/.test(node.caseBlock.clauses.at(-1)?.getText() ?? '')) return null;
  const [first] = node.caseBlock.clauses;
  if (!first || !ts.isCaseClause(first)) return null;
  return {
    what: `switch (${node.expression.getText()}) without ${first.expression.getText()}`,
    text: without(text, first),
  };
}

function plants(rob: (node: ts.Node, text: string) => { what: string; text: string } | null): Plant[] {
  return fileNames.flatMap((name) => {
    const source = ts.createSourceFile(name, ts.sys.readFile(name) ?? '', ts.ScriptTarget.ES2022, true);
    const path = name.slice(root.length);
    return nodesOf(source).flatMap((node) => {
      const robbed = rob(node, source.text);
      return robbed ? [{ path, what: `${path}: ${robbed.what}`, text: robbed.text }] : [];
    });
  });
}

const registries = plants(lostEntry);
const switches = plants(lostCase);

describe('a kind that is not handled does not compile', () => {
  test('stages, bells and events are handled by such registries and switches', () => {
    const all = [...registries, ...switches].map((one) => one.what).join('\n');
    for (const kind of [/stage/i, /BellKind/, /EventType/]) expect(all).toMatch(kind);
    expect(switches.length).toBeGreaterThan(0);
  });

  test.each(registries)('$what', ({ path, text }) => {
    expect(complaints(path, text)).not.toEqual([]);
  });

  test.each(switches)('$what', ({ path, text }) => {
    expect(complaints(path, text)).not.toEqual([]);
  });

  test.each([...new Set([...registries, ...switches].map((one) => one.path))])('%s as it stands compiles', (path) => {
    expect(complaints(path, ts.sys.readFile(join(root, path)) ?? '')).toEqual([]);
  });
});

const world = [
  ['a page', 'export const title = document.title;'],
  ['a window', 'export const width = window.innerWidth;'],
  ['a console', "console.log('a');"],
  ['timers', 'setTimeout(() => undefined, 1);'],
  ['a process', 'export const env = process.env;'],
  ['a network', "void fetch('/');"],
  ['a stopwatch', 'export const at = performance.now();'],
  ['made-up ids', 'export const id = crypto.randomUUID();'],
  ["Node's files", "import { readFileSync } from 'node:fs';\nexport const read = readFileSync;"],
] as const;

describe('core is compiled for no place in particular', () => {
  test.each(world)('it knows no %s', (_, text) => {
    expect(complaints('core/planted.ts', `${text}\n`)).not.toEqual([]);
  });

  test('plain language compiles', () => {
    expect(complaints('core/planted.ts', 'export const later = (now: number, ms: number) => now + ms;\n')).toEqual([]);
  });

  test('an array may be too short, and a missing field is not undefined', () => {
    expect(complaints('core/planted.ts', 'export const first = (a: number[]): number => a[0];\n')).not.toEqual([]);
    expect(complaints('core/planted.ts', 'export const a: { b?: number } = { b: undefined };\n')).not.toEqual([]);
  });
});
