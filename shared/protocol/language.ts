/** What plans are called where an editor is told of them. package.json says the same to the extension's host. */

/** The language of a plan's text, the section of the settings, and the source of findings. */
export const LANGUAGE = "lodebook";

/** The type of the notebook whose cells are a plan's. */
export const NOTEBOOK_TYPE = "lodebook-plan";

/** How the name of a plan's file ends. */
export const PLAN_ENDING = ".lode.yaml";
