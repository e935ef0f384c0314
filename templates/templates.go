// Package templates holds data that is built in: skeletons of new procedures, a first procedure told step by step, web pages.
package templates

import "embed"

// New holds the skeletons of new procedures, a file a kind. @TITLE@ and @NUMBER@ stand for what the writer gives.
//
//go:embed new/*.md
var New embed.FS

// First tells how a first procedure is written; the tests run its commands.
//
//go:embed first-procedure.md
var First string

// Pages holds the web pages with their styles and scripts: inside the card for a tablet, beside the page of watch.
//
//go:embed pages/*.html pages/*.css pages/*.js pages/*.svg
var Pages embed.FS
