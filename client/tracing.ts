/** Tracing on a photo: a panel for each plan. The photo is read from its file into the panel, and is kept nowhere. */
import { commands, type Disposable, l10n, Uri, ViewColumn, type WebviewPanel, window } from "vscode";
import type { BaseLanguageClient } from "vscode-languageclient";
import { COMMANDS } from "../shared/protocol/commands.ts";
import { ask } from "../shared/protocol/message.ts";
import {
	type FromTracing,
	LARGEST_PHOTO,
	PHOTO_HEAD,
	type ToTracing,
	TRACE,
	TRACE_PAGE,
	TRACE_PHOTO,
	type Trace,
	type TraceCommand,
	type TracedPart,
	WRITE_TRACE,
} from "../shared/protocol/tracing.ts";
import { toBase64 } from "../shared/text/base64.ts";
import { applyTo, versionOf } from "./applied.ts";
import { type PlanInFront, planInFront } from "./commands.ts";
import { inAnyCase, SHOWN_PHOTOS } from "./file-endings.ts";
import { fileOf, openedDocument } from "./notebook/plan-notebook.ts";
import { type Chosen, chosenFile } from "./own-server.ts";
import { scriptFolder, webviewPage } from "./webview-page.ts";

const PANEL = "lodebook.tracing";

export interface Tracing {
	readonly registered: Disposable;
	/** Opens a photo in the panel of a plan. */
	readonly trace: (plan: PlanInFront, photo: Chosen) => void;
}

/** Registers the command. */
export function registerTracing(client: BaseLanguageClient, extension: Uri): Tracing {
	const open = new Map<string, TracingPanel>();
	const panelOf = (uri: string): TracingPanel => {
		const plan = fileOf(Uri.parse(uri, true));
		const key = plan.toString();
		const known = open.get(key);
		if (known) return known;
		const panel = new TracingPanel(client, extension, plan, () => void open.delete(key));
		open.set(key, panel);
		return panel;
	};
	return {
		registered: commands.registerCommand(COMMANDS.tracePhoto, (...[uri, part, name]: Partial<TraceCommand>) => {
			const given = uri ?? planInFront()?.uri;
			if (given !== undefined) panelOf(given).show(part, name);
		}),
		trace: ({ uri }, photo) => panelOf(uri).open(photo),
	};
}

class TracingPanel {
	readonly #client: BaseLanguageClient;
	readonly #extension: Uri;
	readonly #plan: Uri;
	readonly #panel: WebviewPanel;
	/** What is to be traced, and on which photo, until the page is there. */
	#wanted: ToTracing | undefined;
	#wantedPhoto: Chosen | undefined;
	#isReady = false;
	/** The photo's name, for what is said of it. */
	#photo = "";

	constructor(client: BaseLanguageClient, extension: Uri, plan: Uri, closed: () => void) {
		this.#client = client;
		this.#extension = extension;
		this.#plan = plan;
		this.#panel = window.createWebviewPanel(
			PANEL,
			l10n.t("Trace: {0}", plan.path.split("/").pop() ?? ""),
			ViewColumn.Active,
			// Neither the photo nor what is traced on it is kept anywhere else.
			{ enableScripts: true, retainContextWhenHidden: true, localResourceRoots: [scriptFolder(extension)] },
		);
		this.#panel.webview.onDidReceiveMessage((message: FromTracing) => this.#hear(message));
		this.#panel.onDidDispose(closed);
		void this.#draw();
	}

	show(part: TracedPart | undefined, name: string | undefined): void {
		this.#panel.reveal();
		if (part === undefined) return;
		const wanted: ToTracing = { type: "part", part, name: name ?? "" };
		if (this.#isReady) this.#send(wanted);
		else this.#wanted = wanted;
	}

	open(photo: Chosen): void {
		this.#panel.reveal();
		if (this.#isReady) void this.#saying(() => this.#open(photo));
		else this.#wantedPhoto = photo;
	}

	async #draw(): Promise<void> {
		const { webview, title } = this.#panel;
		try {
			const page = await ask(this.#client, TRACE_PAGE, { uri: await this.#uri() });
			if (!page) return;
			webview.html = webviewPage(webview, this.#extension, {
				script: "tracing.js",
				title,
				style: page.style,
				body: page.html,
			});
		} catch (error) {
			void window.showErrorMessage(l10n.t("The page cannot be drawn: {0}", messageOf(error)));
			this.#panel.dispose();
		}
	}

	#hear(message: FromTracing): void {
		switch (message.type) {
			case "ready":
				this.#isReady = true;
				if (this.#wanted) this.#send(this.#wanted);
				if (this.#wantedPhoto) this.open(this.#wantedPhoto);
				this.#wantedPhoto = undefined;
				return;
			case "choose":
				void this.#saying(() => this.#choose());
				return;
			case "trace":
				void this.#trace(message);
				return;
			case "write":
				void this.#saying(() => this.#write(message.trace));
				return;
			case "undecoded":
				this.#say(l10n.t("{0} cannot be read as a picture. Save it again as JPEG or PNG.", this.#photo), true);
		}
	}

	async #choose(): Promise<void> {
		const [file] =
			(await window.showOpenDialog({
				title: l10n.t("Choose a photo that was taken from the spot"),
				openLabel: l10n.t("Open"),
				defaultUri: Uri.joinPath(this.#plan, ".."),
				filters: { [l10n.t("Photos")]: inAnyCase(SHOWN_PHOTOS) },
			})) ?? [];
		if (file) await this.#open(chosenFile(file));
	}

	async #open(photo: Chosen): Promise<void> {
		const { name } = photo;
		const size = await photo.size();
		if (size > LARGEST_PHOTO) {
			const [has, most] = [size, LARGEST_PHOTO].map((bytes) => Math.ceil(bytes / 1e6));
			this.#say(l10n.t("{0} has {1} MB; at most {2} MB are opened. Save it smaller.", name, has ?? 0, most ?? 0), true);
			return;
		}
		const bytes = await photo.read();
		const answer = await ask(this.#client, TRACE_PHOTO, {
			uri: await this.#uri(),
			name,
			head: toBase64(bytes.subarray(0, PHOTO_HEAD)),
		});
		if (!answer) return;
		if ("problem" in answer) {
			this.#say(answer.problem, true);
			return;
		}
		this.#photo = name;
		this.#send({ type: "photo", photo: answer.photo, bytes });
	}

	async #trace({ stamp, trace, at }: Extract<FromTracing, { readonly type: "trace" }>): Promise<void> {
		try {
			const answer = await ask(this.#client, TRACE, { uri: await this.#uri(), trace, at });
			this.#send({ type: "traced", stamp, answer });
		} catch (error) {
			this.#send({ type: "traced", stamp, answer: null });
			this.#say(messageOf(error), true);
		}
	}

	async #write(trace: Trace): Promise<void> {
		const uri = await this.#uri();
		const version = versionOf(uri);
		const written = await ask(this.#client, WRITE_TRACE, { uri, trace });
		if (await applyTo(this.#client, { version: () => versionOf(uri) }, version, written))
			this.#say(l10n.t("Written into the plan. Undo in the plan takes it out again."), false);
	}

	/** What goes wrong is said in the panel. */
	async #saying(work: () => Promise<void>): Promise<void> {
		try {
			await work();
		} catch (error) {
			this.#say(messageOf(error), true);
		}
	}

	async #uri(): Promise<string> {
		return this.#client.code2ProtocolConverter.asUri(await openedDocument(this.#plan));
	}

	#say(text: string, wrong: boolean): void {
		this.#send({ type: "said", text, wrong });
	}

	#send(message: ToTracing): void {
		void this.#panel.webview.postMessage(message);
	}
}

const messageOf = (error: unknown): string => (error instanceof Error ? error.message : String(error));
