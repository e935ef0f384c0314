package main

import (
	"io/fs"
	"os"
	"path/filepath"
	"runtime/debug"
	"strings"

	"github.com/yuin/goldmark"
	"github.com/yuin/goldmark/extension"
	"github.com/yuin/goldmark/text"
)

// rivalArgument starts this program as the rival of check: one that reads the same files and does nothing but parse them.
const rivalArgument = "-parse-only"

// parseAll parses every Markdown file below a folder, with the garbage collector as patient as in check.
func parseAll(dir string) {
	debug.SetGCPercent(400)
	markdown := goldmark.New(goldmark.WithExtensions(extension.Table)).Parser()
	_ = filepath.WalkDir(dir, func(name string, e fs.DirEntry, err error) error {
		if err != nil || e.IsDir() || !strings.HasSuffix(name, ".md") {
			return err
		}
		raw, err := os.ReadFile(name)
		markdown.Parse(text.NewReader(raw))
		return err
	})
}
