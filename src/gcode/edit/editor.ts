import type { Edited, LineSpan, NewSettings, PathsAhead, ProgramEditor } from '../../model/editing.ts';
import type { ToolpathOptions } from '../../model/reader.ts';
import type { Source } from '../../source/source.ts';
import { switchAir } from './air-switching.ts';
import { beamOff } from './beam-off.ts';
import { Changes } from './changes.ts';
import { removePaths } from './path-removal.ts';
import { pathsAhead } from './paths-ahead.ts';
import { Refused } from './refusal.ts';
import { changeSettings } from './settings-change.ts';
import { type Survey, surveyOf } from './survey.ts';

/** Changes the text of one G-code program. */
export class GcodeEditor implements ProgramEditor {
  readonly #source: Source;
  readonly #options: ToolpathOptions;

  constructor(source: Source, options: ToolpathOptions) {
    this.#source = source;
    this.#options = options;
  }

  beamOffWhileStanding(lines: readonly number[]): Edited {
    const spans = lines.map((line) => ({ first: line, last: line }));
    return this.#edited(spans, 'beam', (survey, changes) => beamOff(survey, changes, lines));
  }

  withoutPaths(paths: readonly LineSpan[]): Edited {
    return this.#edited(paths, 'beam', (survey, changes) => removePaths(survey, changes, paths));
  }

  withSettings(stretches: readonly NewSettings[]): Edited {
    const spans = stretches.map(({ span }) => span);
    const power = stretches.some(({ setting }) => setting !== null);
    const { full } = this.#options.power;
    return this.#edited(spans, power ? 'beam' : null, (survey, changes) =>
      changeSettings(survey, changes, stretches, full),
    );
  }

  pathsAhead(moves: readonly PathsAhead[]): Edited {
    const spans = moves.flatMap(({ paths, of }) => [...paths, { first: of, last: of }]);
    return this.#edited(spans, 'beam', (survey, changes) => pathsAhead(survey, changes, moves));
  }

  withAir(stretches: readonly LineSpan[], words: { on: string; off: string }): Edited {
    return this.#edited(stretches, 'beam', (survey, changes) => switchAir(survey, changes, stretches, words));
  }

  /** `needs`: the change writes the beam's words, M3, M4, M5 and S. */
  #edited(
    spans: readonly LineSpan[],
    needs: 'beam' | null,
    change: (survey: Survey, changes: Changes) => void,
  ): Edited {
    const { word } = this.#options.power;
    const [first] = spans;
    if (needs === 'beam' && word !== 'S') {
      const how = word === 'M106' ? 'by M106' : 'by an analog output';
      return {
        refused: `the machine’s profile sets the power ${how}, and only M3, M4, M5 and S are written`,
        line: first?.first ?? 1,
      };
    }
    const survey = surveyOf(this.#source, this.#options, spans);
    if (survey === null) return { refused: 'it would take a look at too many lines', line: first?.first ?? 1 };
    const changes = new Changes(survey);
    try {
      change(survey, changes);
      return { edits: changes.edits() };
    } catch (error) {
      if (!(error instanceof Refused)) throw error;
      return { refused: error.message, line: error.line };
    }
  }
}
