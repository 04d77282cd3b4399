let commits = 0;

/** Called where a trace's drawing changes in the page, never before. */
export const countTraceCommit = (): void => {
  commits += 1;
};

/** How often a trace has changed in the page since it was loaded, all traces together. */
export const traceCommits = (): number => commits;
