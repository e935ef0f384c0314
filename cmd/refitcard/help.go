package main

import (
	"fmt"
	"runtime/debug"
	"strings"

	"github.com/spf13/pflag"

	"refitcard/compiler/reference"
)

// version is the release; the build may set it with -ldflags "-X main.version=…".
var version = "0.1"

// commit is the commit of a release, set likewise; else that which the build remembers.
var commit = ""

// overview is what "refitcard" alone prints: the verbs in the order in which a job meets them.
func overview() string {
	var b strings.Builder
	b.WriteString("refitcard makes job cards and pick lists from procedures in Markdown, and finds what is wrong with them first.\n\n")
	b.WriteString("  refitcard VERB [options] FILE or FOLDER …      - is standard input\n\n")
	for _, t := range tasks() {
		fmt.Fprintf(&b, "  %-9s %s\n", t.name, t.purpose)
	}
	b.WriteString("\n  refitcard VERB --help     options of a verb, with one worked example\n  refitcard --version       version, commit, digests of the built-in tables\n")
	b.WriteString("\nExit status: 0 done; 1 something was found that must be mended; 2 it could not do what was asked.\n")
	return b.String()
}

func help(t task, set *pflag.FlagSet) string {
	var b strings.Builder
	fmt.Fprintf(&b, "refitcard %s %s\n\n%s.\n\n", t.name, t.args, strings.ToUpper(t.purpose[:1])+t.purpose[1:])
	if usage := set.FlagUsagesWrapped(100); usage != "" {
		fmt.Fprintf(&b, "Options:\n%s\n", usage)
	}
	fmt.Fprintf(&b, "Example:\n%s", indent(t.example))
	return b.String()
}

func indent(s string) string {
	var b strings.Builder
	for line := range strings.Lines(s) {
		if line != "\n" {
			b.WriteString("  ")
		}
		b.WriteString(line)
	}
	return b.String()
}

// versionText tells version, commit and the digests of the tables that the figures come from.
func versionText() string {
	from := commit
	if info, ok := debug.ReadBuildInfo(); ok && from == "" {
		for _, s := range info.Settings {
			if s.Key == "vcs.revision" {
				from = s.Value
			}
		}
	}
	if from == "" {
		from = "unknown"
	}
	var b strings.Builder
	fmt.Fprintf(&b, "refitcard %s\ncommit %s\n", version, from)
	for _, d := range reference.Digests() {
		fmt.Fprintf(&b, "table %-18s %s\n", d.Name, d.Digest)
	}
	return b.String()
}
