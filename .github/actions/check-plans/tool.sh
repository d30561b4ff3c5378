#!/usr/bin/env bash
# Finds the command line and writes its path to $GITHUB_OUTPUT: $TOOL, a packed lodebook-….tgz or a lodebook.mjs; else that of
# the repository the action is in, which a clean clone builds first. Never anything of the repository that is checked.
set -euo pipefail
fail() {
	echo "::error title=Plans are not checked::$1"
	exit 2
}

node -e 'const [major, minor] = process.versions.node.split(".").map(Number); process.exit(major > 20 || (major === 20 && minor >= 19) ? 0 : 1)' ||
	fail "Node 20.19 or newer is needed. Use actions/setup-node before this action."
own=$(cd "$(dirname "${BASH_SOURCE[0]}")/../../.." && pwd)
case ${TOOL:-} in
'')
	cli=$own/dist/lodebook.mjs
	if [ ! -f "$cli" ]; then
		cd "$own"
		if [ ! -d node_modules ]; then npm ci --ignore-scripts --no-audit --no-fund >&2 || fail "the action's packages cannot be installed."; fi
		node esbuild.config.mjs >&2 || fail "the action's command line cannot be built."
	fi
	;;
*.tgz)
	[ -f "$TOOL" ] || fail "the packed command line given as tool is not there."
	unpacked=$(mktemp -d "${RUNNER_TEMP:-/tmp}/lodebook-tool-XXXXXX")
	tar -xzf "$TOOL" -C "$unpacked" || fail "the packed command line given as tool cannot be unpacked."
	cli=$unpacked/package/dist/lodebook.mjs
	;;
*) cli=$TOOL ;;
esac
[ -f "$cli" ] || fail "there is no command line where it should be."
echo "cli=$cli" >>"${GITHUB_OUTPUT:-/dev/null}"
