import { SaxesParser } from 'saxes';

/** An element of a report, read by saxes, which refuses what is not well-formed XML 1.0. */
export interface ReadElement {
  readonly name: string;
  readonly attributes: Readonly<Record<string, string>>;
  readonly children: ReadElement[];
  text: string;
}

/** The root element; throws where the text is not well-formed. Comments are gathered in `comments`. */
export function readXml(text: string, comments: string[] = []): ReadElement {
  const parser = new SaxesParser();
  const top: ReadElement = { name: '', attributes: {}, children: [], text: '' };
  const open = [top];
  parser.on('error', (error) => {
    throw error;
  });
  parser.on('comment', (comment) => comments.push(comment));
  parser.on('opentag', ({ name, attributes }) => {
    const element: ReadElement = { name, attributes: attributes as Record<string, string>, children: [], text: '' };
    open.at(-1)!.children.push(element);
    open.push(element);
  });
  parser.on('text', (part) => {
    open.at(-1)!.text += part;
  });
  parser.on('closetag', () => {
    open.pop();
  });
  parser.write(text).close();
  return top.children[0]!;
}
