/** One exported type for each component. The types are openapi-typescript's; here each gets its own name. */
import openapiTS, { astToString } from 'openapi-typescript';
import ts from 'typescript';
import { NotKnown, reached, type Spec } from './spec.js';

const open = 'x-open';

/** A word of an answer may be one that a later service brings. A word that is asked too is not opened: what was read may be sent back. */
function opened(spec: Spec): Spec {
  const asked = new Set<string>();
  for (const methods of Object.values(spec.paths)) for (const { requestBody, parameters } of Object.values(methods)) reached(spec, [requestBody, parameters], asked);
  const shut = new Set<string>();
  walk([...asked].map((name) => spec.components.schemas[name]), (part) => { if (Array.isArray(part['enum'])) shut.add(part['enum'].join()); });
  const schemas = structuredClone(spec.components.schemas);
  walk(schemas, (part) => { if (Array.isArray(part['enum']) && !shut.has(part['enum'].join())) part[open] = true; });
  return { ...spec, components: { schemas } };
}
function walk(part: unknown, visit: (part: Record<string, unknown>) => void): void {
  if (typeof part !== 'object' || part === null) return;
  if (!Array.isArray(part)) visit(part as Record<string, unknown>);
  for (const [key, member] of Object.entries(part)) if (key !== 'example' && key !== 'examples') walk(member, visit);
}

const f = ts.factory;
const anyOther = f.createParenthesizedType(f.createIntersectionTypeNode([f.createKeywordTypeNode(ts.SyntaxKind.StringKeyword), f.createTypeLiteralNode([])]));

export async function typesText(spec: Spec, banner: string): Promise<string> {
  const { components } = opened(spec);
  const nodes = await openapiTS({ openapi: '3.1.0', info: { title: '', version: '' }, paths: {}, components } as never, {
    immutable: true,
    silent: true,
    transform: (schema) => {
      const { enum: words, [open]: isOpen } = schema as { enum?: readonly string[]; [open]?: true };
      return isOpen === undefined ? undefined : f.createUnionTypeNode([...words!.map((word) => f.createLiteralTypeNode(f.createStringLiteral(word))), anyOther]);
    },
  });
  const all = nodes.find((node): node is ts.InterfaceDeclaration => ts.isInterfaceDeclaration(node) && node.name.text === 'components');
  const schemas = all?.members.find((member): member is ts.PropertySignature => ts.isPropertySignature(member) && nameText(member) === 'schemas')?.type;
  if (schemas === undefined || !ts.isTypeLiteralNode(schemas)) throw new NotKnown('#/components/schemas', 'a document without components');
  const aliases = schemas.members.map((member) => {
    if (!ts.isPropertySignature(member) || member.type === undefined) throw new NotKnown('#/components/schemas', 'such a component');
    const alias = f.createTypeAliasDeclaration([f.createToken(ts.SyntaxKind.ExportKeyword)], nameText(member), undefined, named(member.type));
    return ts.setSyntheticLeadingComments(alias, ts.getSyntheticLeadingComments(member));
  });
  return banner + astToString(aliases).replace(/\* @description /g, '* ').replace(/^ *\/\*\* @enum \{string\} \*\/\n/gm, '').replace(/^ *\* @enum \{string\}\n/gm, '');
}

const nameText = (member: ts.PropertySignature): string => (ts.isIdentifier(member.name) || ts.isStringLiteral(member.name) ? member.name.text : '');

/** `components["schemas"]["X"]` becomes `X`. */
function named(type: ts.TypeNode): ts.TypeNode {
  const visit = (node: ts.Node): ts.Node => {
    if (ts.isIndexedAccessTypeNode(node) && ts.isIndexedAccessTypeNode(node.objectType) && ts.isLiteralTypeNode(node.indexType) && ts.isStringLiteral(node.indexType.literal)) {
      return f.createTypeReferenceNode(node.indexType.literal.text);
    }
    return ts.visitEachChild(node, visit, undefined);
  };
  return ts.visitNode(type, visit) as ts.TypeNode;
}
