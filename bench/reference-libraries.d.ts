/** The libraries that are measured and compared against bring no types of their own. */
declare module 'gcode-toolpath' {
  interface Point {
    x: number;
    y: number;
    z: number;
  }
  export interface Modal {
    motion: string;
    plane: string;
  }
  export default class Toolpath {
    constructor(handlers: {
      addLine?: (modal: Modal, from: Point, to: Point) => void;
      addArcCurve?: (modal: Modal, from: Point, to: Point, centre: Point) => void;
    });
    loadFromStream(stream: unknown, done: (error?: unknown) => void): unknown;
    loadFromStringSync(text: string): unknown;
  }
}

declare module 'gcode-interpreter' {
  export default class Interpreter {
    constructor(options: { handlers: Record<string, (params: Record<string, number>) => void> });
    loadFromStream(stream: unknown, done: (error?: unknown) => void): unknown;
  }
}
