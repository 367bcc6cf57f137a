/** Checks recordings one after another in a thread of its own. Bundled beside the command line. */
import { serveTasks } from '../workers/serve-tasks.ts';
import { checkFile } from './check-file.ts';

serveTasks(checkFile);
