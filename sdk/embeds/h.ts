/** Elements without markup text: nothing that a person typed is ever read as HTML. */

export function h<K extends keyof HTMLElementTagNameMap>(tag: K, attributes: Readonly<Record<string, string | undefined>> = {}, ...inside: (Node | string)[]): HTMLElementTagNameMap[K] {
  const element = document.createElement(tag);
  for (const name in attributes) if (attributes[name] !== undefined) element.setAttribute(name, attributes[name]);
  element.append(...inside);
  return element;
}

/** A picture of ours as an element. */
export const svgElement = (svg: string): Element => document.importNode(new DOMParser().parseFromString(svg, 'image/svg+xml').documentElement, true);
