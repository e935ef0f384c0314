//go:build ignore

// Licences lists what is built into the program, with the licence of each and its text, and fails where a licence is not on the
// list of those allowed. It reads the texts that lie beside the code of each dependency, and asks nobody.
//
//	go run .ci/licences.go            a table: name, version, licence
//	go run .ci/licences.go -texts     the table and all texts, to go with a release
//	go run .ci/licences.go -of FILE   which licence a text is
package main

import (
	"bytes"
	"errors"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"slices"
	"strings"
)

// allowed are the licences that a binary may be passed on under if their texts go with it.
var allowed = []string{"MIT", "BSD-2-Clause", "BSD-3-Clause", "Apache-2.0", "ISC", "MIT and Apache-2.0", "Bitstream Vera"}

// platforms are those that a release is built for.
var platforms = []string{"linux/amd64", "linux/arm64", "windows/amd64", "windows/arm64", "darwin/amd64", "darwin/arm64"}

// part is something that is built in.
type part struct{ name, version, licence, text string }

func main() {
	if len(os.Args) == 3 && os.Args[1] == "-of" {
		text, err := os.ReadFile(os.Args[2])
		fmt.Println(recognised(string(text)))
		if err != nil {
			fmt.Fprintln(os.Stderr, "licences:", err)
			os.Exit(1)
		}
		return
	}
	parts, err := builtIn()
	if err == nil {
		err = show(parts, slices.Contains(os.Args[1:], "-texts"))
	}
	if err != nil {
		fmt.Fprintln(os.Stderr, "licences:", err)
		os.Exit(1)
	}
}

// show prints the table, then the texts, and tells which licences are not allowed.
func show(parts []part, texts bool) error {
	var wrong []error
	for _, p := range parts {
		fmt.Printf("%-36s %-40s %s\n", p.name, p.version, p.licence)
		if !slices.Contains(allowed, p.licence) {
			wrong = append(wrong, fmt.Errorf("%q has a licence that is not on the list: %q", p.name, p.licence))
		}
	}
	if texts {
		for _, p := range parts {
			fmt.Printf("\n\n%s %s: %s\n%s\n\n%s\n", p.name, p.version, p.licence, strings.Repeat("-", 72), strings.TrimSpace(p.text))
		}
	}
	return errors.Join(wrong...)
}

// builtIn lists the modules that the program needs on any of the platforms, the language's own library, and the fonts.
func builtIn() ([]part, error) {
	seen := map[string]part{}
	for _, platform := range platforms {
		system, processor, _ := strings.Cut(platform, "/")
		list := exec.Command("go", "list", "-deps", "-f", "{{with .Module}}{{if not .Main}}{{.Path}}\t{{.Version}}\t{{.Dir}}{{end}}{{end}}", "./cmd/refitcard")
		list.Env = append(os.Environ(), "GOOS="+system, "GOARCH="+processor, "CGO_ENABLED=0")
		list.Stderr = os.Stderr
		out, err := list.Output()
		if err != nil {
			return nil, fmt.Errorf("go list for %s: %w", platform, err)
		}
		for line := range strings.Lines(string(out)) {
			f := strings.Split(strings.TrimSpace(line), "\t")
			if _, known := seen[f[0]]; known || len(f) != 3 {
				continue
			}
			text, err := textIn(f[2])
			if err != nil {
				return nil, fmt.Errorf("%s: %w", f[0], err)
			}
			seen[f[0]] = part{f[0], f[1], recognised(text), text}
		}
	}
	var parts []part
	for _, p := range seen {
		parts = append(parts, p)
	}
	slices.SortFunc(parts, func(a, b part) int { return strings.Compare(a.name, b.name) })
	root, err := exec.Command("go", "env", "GOROOT").Output()
	if err != nil {
		return nil, err
	}
	text, err := textIn(strings.TrimSpace(string(root)))
	if err != nil {
		return nil, err
	}
	parts = append(parts, part{"Go, its library", runtime.Version(), recognised(text), text})
	fonts, err := filepath.Glob("render/faces/data/LICENCE-*.txt")
	if err != nil || len(fonts) == 0 {
		return nil, errors.Join(err, errors.New("no licence lies beside the fonts: this runs in the top folder of the project"))
	}
	for _, name := range fonts {
		text, err := os.ReadFile(name)
		if err != nil {
			return nil, err
		}
		font := strings.TrimSuffix(strings.TrimPrefix(filepath.Base(name), "LICENCE-"), ".txt")
		parts = append(parts, part{"font: " + font, "see render/faces/data/README.md", recognised(string(text)), string(text)})
	}
	return parts, nil
}

// textIn reads the licence that lies in a folder; of several, one behind the other.
func textIn(dir string) (string, error) {
	entries, err := os.ReadDir(dir)
	if err != nil {
		return "", err
	}
	var all [][]byte
	for _, e := range entries {
		name := strings.ToUpper(strings.TrimSuffix(e.Name(), filepath.Ext(e.Name())))
		if !e.IsDir() && slices.Contains([]string{"LICENSE", "LICENCE", "COPYING", "NOTICE"}, name) {
			data, err := os.ReadFile(filepath.Join(dir, e.Name()))
			if err != nil {
				return "", err
			}
			all = append(all, data)
		}
	}
	if len(all) == 0 {
		return "", errors.New("no licence lies beside the code")
	}
	return string(bytes.Join(all, []byte("\n\n"))), nil
}

// recognised tells which licence a text is by sentences that each has and no other one; "unknown" where none is there. Words
// that take back what a licence grants make it unknown too.
func recognised(text string) string {
	said := func(words string) bool {
		return strings.Contains(strings.ToLower(strings.Join(strings.Fields(text), " ")), words)
	}
	for _, taken := range []string{"general public license", "commons clause", "non-commercial", "noncommercial", "server side public", "business source"} {
		if said(taken) && !said("apache license version 2.0") {
			return "unknown: it speaks of " + taken
		}
	}
	var found []string
	if said("permission is hereby granted, free of charge, to any person obtaining a copy of this software and associated documentation files") {
		found = append(found, "MIT")
	}
	if said("redistribution and use in source and binary forms, with or without modification, are permitted provided that the following conditions are met") {
		if said("endorse or promote products derived from this software without specific prior written permission") {
			found = append(found, "BSD-3-Clause")
		} else {
			found = append(found, "BSD-2-Clause")
		}
	}
	if said("apache license version 2.0") || said("licensed under the apache license, version 2.0") {
		found = append(found, "Apache-2.0")
	}
	if said("permission to use, copy, modify, and/or distribute this software for any purpose with or without fee is hereby granted") {
		found = append(found, "ISC")
	}
	if said("bitstream vera is a trademark of bitstream") && said("permission is hereby granted, free of charge, to any person obtaining a copy of the fonts") {
		found = append(found, "Bitstream Vera")
	}
	if len(found) == 0 {
		return "unknown"
	}
	return strings.Join(found, " and ")
}
