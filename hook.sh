#!/bin/sh
# What pre-commit runs: the command line of this clone, built when it is first needed. npm would put a package that it takes
# from a git repository in place without building it.
set -eu
own=$(cd "$(dirname "$0")" && pwd)
ready=$own/dist/built-by-hook
if [ ! -f "$ready" ]; then
	if ! (
		cd "$own"
		npm ci --ignore-scripts --no-audit --no-fund --no-global && node esbuild.config.mjs && touch "$ready"
	) >&2; then
		echo "lodebook: the command line of the hook cannot be built; it needs Node 20.19 or newer, and npm." >&2
		exit 2
	fi
fi
exec node "$own/dist/lodebook.mjs" "$@"
