/** Tracing on a photo, as the server answers it: loaded on first use. */
export { traceAnswer } from "./answer.ts";
export { pointGiven, traceGiven } from "./given.ts";
export { tracePanel } from "./panel.tsx";
export { photoOffered } from "./photo.ts";
export { type Solved, solveTrace } from "./solve.ts";
export { writeTrace } from "./write.ts";
