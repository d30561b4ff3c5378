/** A plan that is open as text and as a notebook at once. */
import type { NotificationOf } from "./message.ts";

export type Face = "text" | "notebook";

/** Which face of such a plan is in front, or was last: its findings are told there, and so are counted once. */
export const FACE_IN_FRONT: NotificationOf<{ readonly uri: string; readonly face: Face }> = {
	method: "lodebook/faceInFront",
};
