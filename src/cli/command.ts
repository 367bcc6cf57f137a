/** One word after `kneepoint` on the command line. */
export interface Command {
  name: string;
  /** One line for the list of commands. */
  summary: string;
  /** The whole of `kneepoint NAME --help`: usage, options, and what each column of the table means. */
  help: string;
  /**
   * Does the work and resolves to the exit status: 0 done (and passed, where a
   * judgement was asked for), 1 done but something is out of tolerance.
   * Unusable input or arguments reject with a `UsageError`, before anything
   * has been written.
   *
   * @param args what follows the command's name, `--help` already dealt with
   */
  run(args: string[]): Promise<number>;
}
