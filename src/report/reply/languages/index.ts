import type { ReplyLanguage } from '../../../facts/types.ts';
import { de } from './de.ts';
import { en } from './en.ts';
import type { Language } from './language.ts';

export const LANGUAGES: Readonly<Record<ReplyLanguage, Language>> = { en, de };
