import { runAction } from './run.ts';

process.exitCode = await runAction(process.env, process.cwd());
