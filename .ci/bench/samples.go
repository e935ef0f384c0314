package main

import (
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
)

// copied begins the names of the procedures that were made from samples.
const copied = "copy-"

// readSamples reads the sample library, by the path from its root.
func readSamples(root string) (map[string][]byte, error) {
	all := map[string][]byte{}
	err := filepath.WalkDir(root, func(name string, e os.DirEntry, err error) error {
		if err != nil || e.IsDir() {
			return err
		}
		rel, err := filepath.Rel(root, name)
		if err == nil {
			all[filepath.ToSlash(rel)], err = os.ReadFile(name)
		}
		return err
	})
	return all, err
}

var numberLine = regexp.MustCompile(`(?m)^number: .*$`)

// library makes a library of n procedures from the samples, each with a number of its own, beside the samples themselves.
func library(samples map[string][]byte, n int) map[string][]byte {
	all := map[string][]byte{}
	var jobs []string
	for name, raw := range samples { // all of them: they name one another
		all[name] = raw
		if strings.HasSuffix(name, ".md") && !strings.Contains(name, "/") {
			jobs = append(jobs, name)
		}
	}
	slices.Sort(jobs)
	for i := range n {
		raw := samples[jobs[i%len(jobs)]]
		all[fmt.Sprintf("%s%05d.md", copied, i)] = numberLine.ReplaceAll(raw, fmt.Appendf(nil, "number: C-%d", i))
	}
	return all
}

// written puts a library into a folder.
func written(dir string, files map[string][]byte) error {
	for name, raw := range files {
		full := filepath.Join(dir, filepath.FromSlash(name))
		if err := os.MkdirAll(filepath.Dir(full), 0o755); err != nil {
			return err
		}
		if err := os.WriteFile(full, raw, 0o644); err != nil {
			return err
		}
	}
	return nil
}
