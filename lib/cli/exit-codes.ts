/** Exit codes of the command; 0 is done. */
export const PROBLEM_EXIT_CODE = 1;
export const USAGE_EXIT_CODE = 2;
export const MODEL_EXIT_CODE = 3;
/** 128 + SIGINT. */
export const STOPPED_EXIT_CODE = 130;
