/** Measures tasks one after another in a thread of its own. Bundled beside the command line. */
import { serveTasks } from '../workers/serve-tasks.ts';
import { measureTask } from './measure-task.ts';

serveTasks(measureTask);
