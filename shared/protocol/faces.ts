/** A plan that is open as text and as a notebook at once. */
import type { NotificationOf } from "./message.ts";

export type Face = "text" | "notebook";

/** Which face of such a plan is in front, or was last: its findings are told there, and so are counted once. */
export const FACE_IN_FRONT: NotificationOf<{ readonly uri: string; readonly face: Face }> = {
	method: "lodebook/faceInFront",
};

/**
 * Whether a plan's notebook is seen in any tab. An editor may keep one whose tabs are closed, for what can be undone in
 * its cells; nothing is told of it until it is seen again.
 */
export const NOTEBOOK_SHOWN: NotificationOf<{ readonly uri: string; readonly shown: boolean }> = {
	method: "lodebook/notebookShown",
};
