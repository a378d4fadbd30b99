import { startPage } from './start-page.ts';
import type { BuiltIn } from './worker/desk.ts';
import { serve } from './worker/serve.ts';

/** Written in by the build. */
declare const BUILT: BuiltIn;

// One script for both: the page starts its worker from this very text.
if (typeof document === 'undefined') serve(globalThis as never, BUILT);
else startPage(document.currentScript?.textContent ?? '', BUILT);
