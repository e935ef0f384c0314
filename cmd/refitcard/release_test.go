package main

import (
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
)

// licences runs the program that knows the licences of what is built in.
func licences(t *testing.T, args ...string) (string, error) {
	t.Helper()
	c := exec.Command("go", append([]string{"run", ".ci/licences.go"}, args...)...)
	c.Dir = filepath.Join("..", "..")
	out, err := c.CombinedOutput()
	return string(out), err
}

// Everything that is built in may be passed on, and its licence is known.
func TestLicencesAreAllowed(t *testing.T) {
	out, err := licences(t)
	if err != nil {
		t.Fatalf("%v\n%s", err, out)
	}
	for _, name := range []string{"github.com/yuin/goldmark", "go.yaml.in/yaml/v3", "Go, its library", "font: DejaVu"} {
		if !strings.Contains(out, name) {
			t.Errorf("%q is not on the list:\n%s", name, out)
		}
	}
}

func TestLicencesAreRecognised(t *testing.T) {
	const bsd = "Redistribution and use in source and binary forms, with or without\n modification, are permitted provided that the following conditions are met: …"
	for want, text := range map[string]string{
		"unknown":      "All rights reserved.",
		"BSD-2-Clause": bsd,
		"BSD-3-Clause": bsd + " nor the names may be used to endorse or promote products derived from this software without\nspecific prior written permission",
		"unknown: it speaks of general public license": bsd + " under the terms of the GNU General Public License",
		"unknown: it speaks of commons clause":         "“Commons Clause” License Condition: Permission is hereby granted, free of charge, to any person obtaining a copy of this software and associated documentation files",
	} {
		name := filepath.Join(t.TempDir(), "LICENSE")
		if err := os.WriteFile(name, []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
		if out, err := licences(t, "-of", name); err != nil || strings.TrimSpace(out) != want {
			t.Errorf("%.60q is %q, want %q, %v", text, out, want, err)
		}
	}
}
