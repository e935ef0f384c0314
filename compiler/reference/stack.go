// Package reference holds what is published: tables as CSV, each with its source at the head.
package reference

import (
	"strings"
	"sync"
)

// stackRows are read once.
var stackRows = sync.OnceValue(func() []map[string]string { return columns("stack") })

// StackExample is a published sum of thicknesses, in millimetres. Published figures are as printed, empty where the source
// gives none.
type StackExample struct {
	Name                                           string
	Nominals                                       []string // signed
	Tolerances                                     []string // half-widths
	Nominal, Worst, RSS                            string   // recomputed
	PublishedNominal, PublishedWorst, PublishedRSS string   // as printed
	Source, Status                                 string
}

// StackExamples gives the examples of stack.csv in order.
func StackExamples() []StackExample {
	var all []StackExample
	for _, r := range stackRows() {
		if r["kind"] != "example" {
			continue
		}
		all = append(all, StackExample{
			Name: r["name"], Nominals: strings.Fields(r["signed_nominals"]), Tolerances: strings.Fields(r["tolerances"]),
			Nominal: r["nominal"], Worst: r["worst_case"], RSS: r["rss"],
			PublishedNominal: r["published_nominal"], PublishedWorst: r["published_worst_case"], PublishedRSS: r["published_rss"],
			Source: r["source"], Status: r["status"],
		})
	}
	return all
}
