/** What the options of JSON say. */
import { sentences } from "../../text/sentence.ts";

export const words = sentences("output.json", { help: "print JSON", exported: "JSON" });
