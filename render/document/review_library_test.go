package document_test

import (
	"os"
	"slices"
	"strings"
	"testing"

	"refitcard/compiler"
	"refitcard/compiler/assembly"
	"refitcard/compiler/rules"
	"refitcard/render/document"
)

// libraryReviews gives the review of every procedure of the sample library with what it was made from.
func libraryReviews(t *testing.T) map[string]struct {
	compiler.Result
	review *document.Review
} {
	t.Helper()
	lib := compiler.Open(os.DirFS("../../procedures"), func(path string) string { return path })
	files, err := os.ReadDir("../../procedures")
	if err != nil {
		t.Fatal(err)
	}
	all := map[string]struct {
		compiler.Result
		review *document.Review
	}{}
	for _, f := range files {
		if !strings.HasSuffix(f.Name(), ".md") {
			continue
		}
		r, err := lib.Compile(f.Name(), rules.Options{})
		if err != nil {
			t.Fatal(err)
		}
		in := document.ReviewInput{Proc: r.Proc, Settings: r.Settings, Findings: r.Findings}
		all[f.Name()] = struct {
			compiler.Result
			review *document.Review
		}{r, document.MakeReview(in)}
	}
	if len(all) < 10 {
		t.Fatalf("only %d procedures were seen", len(all))
	}
	return all
}

// Every procedure of the library closes; its bars say after every step what the ledger says there.
func TestBarsAgreeWithTheLedger(t *testing.T) {
	for name, r := range libraryReviews(t) {
		if !r.review.Standing.Good {
			t.Errorf("%s: %+v", name, r.review.Standing)
		}
		for i, play := range assembly.PlayAll(r.Proc, r.Settings.Verbs, nil, true) {
			l := r.review.Ledgers[i]
			for _, state := range play.After {
				col := slices.Index(l.Steps, state.Step.Name())
				if state.Step.Parent != nil || col < 0 {
					continue
				}
				if want, got := counted(state), barred(l, col); want != got {
					t.Errorf("%s, step %s: the ledger has %d things away and loose, the bars %d", name, state.Step.Name(), want, got)
					for _, row := range l.Rows {
						t.Log(drawn(l, row))
					}
				}
			}
		}
	}
}

// counted counts the things that are away or loose in a state, old parts that wait for their new ones left out: they have no
// bar, but a cross.
func counted(s assembly.State) int {
	n := len(s.Drained) + len(s.Open) + len(s.Isolated)
	seen := map[any]bool{}
	for i, c := range slices.Concat(s.Off, s.Loose) {
		if off := i < len(s.Off); off && c.Part.Use.String() == "replace" || seen[c.Part] {
			continue
		}
		seen[c.Part] = true
		n++
	}
	return n
}

func barred(l document.Ledger, col int) int {
	n := 0
	for _, row := range l.Rows {
		for _, b := range row.Bars {
			if b.From <= col && (col < b.To || b.To == col && col == len(l.Steps)-1 && strings.Contains(row.End, "on purpose")) ||
				b.To == col && col == len(l.Steps)-1 && (strings.Contains(row.End, "as meant") || strings.Contains(row.End, "held otherwise")) {
				n++
				break
			}
		}
	}
	return n
}

// Torques of the sample job, against figures worked out by hand: T = K × F × d, and the proof load of M8 8.8 in ISO 898-1,
// 21.2 kN.
func TestTorqueLoads(t *testing.T) {
	r := libraryReviews(t)["rake-winch-end-cover.md"].review
	if len(r.Torques) != 2 {
		t.Fatalf("%d torques", len(r.Torques))
	}
	bolts, plug := r.Torques[0], r.Torques[1]
	if bolts.Step != "6" || bolts.Count+" "+bolts.What != "12 cover bolts" || bolts.Spec != "M8 8.8" || bolts.NewtonMetres != "22" || bolts.PoundFeet != "16" {
		t.Errorf("%+v", bolts)
	}
	if len(bolts.Loads) != 3 || bolts.Loads[0] != (document.Load{K: "0.15", Preload: "18.3", Share: "86 %"}) {
		t.Errorf("%+v", bolts.Loads)
	}
	if plug.None != "no strength given" || plug.PoundFeet != "18" {
		t.Errorf("%+v", plug)
	}
}
