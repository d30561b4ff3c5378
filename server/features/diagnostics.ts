/**
 * Diagnostics: the findings of a plan. Pulled by clients that can, with result ids; pushed to the others at once after
 * each change.
 */
import { type Diagnostic, DiagnosticSeverity, type DocumentDiagnosticReport, DocumentDiagnosticReportKind } from "vscode-languageserver";
import type { TextDocument } from "vscode-languageserver-textdocument";
import type { Finding, Severity } from "../../shared/findings/finding.ts";
import type { PlanDocument } from "../plan-document.ts";
import type { Feature } from "../session.ts";
import { explanationUri } from "./explanation.ts";

const SEVERITIES: Readonly<Record<Severity, DiagnosticSeverity>> = {
	error: DiagnosticSeverity.Error,
	warning: DiagnosticSeverity.Warning,
	info: DiagnosticSeverity.Information,
};

export const SOURCE = "lodebook";

export const diagnostics: Feature = {
	capabilities: (client) =>
		client.textDocument?.diagnostic ? { diagnosticProvider: { identifier: SOURCE, interFileDependencies: false, workspaceDiagnostics: false } } : {},
	listen(session) {
		const { connection, documents } = session;
		connection.languages.diagnostics.on(({ textDocument, previousResultId }): DocumentDiagnosticReport => {
			const items = session.guarded("diagnostics", textDocument.uri, diagnosticsOf) ?? [];
			const resultId = String(documents.get(textDocument.uri)?.version ?? "none");
			return resultId === previousResultId
				? { kind: DocumentDiagnosticReportKind.Unchanged, resultId }
				: { kind: DocumentDiagnosticReportKind.Full, resultId, items };
		});
		documents.onDidChangeContent(({ document }) => {
			if (session.client.textDocument?.diagnostic) return;
			const items = session.guarded("diagnostics", document.uri, diagnosticsOf) ?? [];
			void connection.sendDiagnostics({ uri: document.uri, version: document.version, diagnostics: items });
		});
		documents.onDidClose(({ document }) => {
			if (!session.client.textDocument?.diagnostic) void connection.sendDiagnostics({ uri: document.uri, diagnostics: [] });
		});
	},
};

export function diagnosticsOf(document: TextDocument, plan: PlanDocument): Diagnostic[] {
	return plan.findings(document).map((finding) => diagnosticOf(document, finding));
}

export function diagnosticOf(document: TextDocument, { code, severity, from, to, message }: Finding): Diagnostic {
	return {
		range: { start: document.positionAt(from), end: document.positionAt(to) },
		severity: SEVERITIES[severity],
		source: SOURCE,
		code,
		codeDescription: { href: explanationUri(code) },
		message,
	};
}
