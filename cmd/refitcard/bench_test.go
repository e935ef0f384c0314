package main

import "testing"

// BenchmarkCardsOfTheLibrary gives the time for all sheets of the sample library.
func BenchmarkCardsOfTheLibrary(b *testing.B) {
	for b.Loop() {
		run(b, done, "press", samples, "-o", b.TempDir(), "--quiet")
	}
}
