#!/bin/sh
# For a build machine, at every change: fails where a note has an error, and where the recorded results (NAME.results.yaml) are not
# those that are computed now, so that nobody commits a note without its results. Nothing is printed, and no browser is needed.
# surgenote must be installed there in the version with which the results were recorded.
set -eu
cd "$(dirname "$0")/.."
pages=$(mktemp -d)
trap 'rm -rf "$pages"' EXIT
surgenote compile . --locked --html --no-pdf --out "$pages"
