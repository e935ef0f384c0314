package report_test

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"net/url"
	"os"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"refitcard/compiler/diag"
	"refitcard/compiler/report"
	"refitcard/compiler/source"
)

const (
	sarifSchemaFile = "../../testdata/sarif/sarif-schema-2.1.0.json"
	// The digest of the schema as OASIS publishes it, told in testdata/sarif/SOURCE.md too.
	sarifSchemaDigest = "c3b4bb2d6093897483348925aaa73af03b3e3f4bd4ca38cef26dcb4212a2682e"
)

func inSARIF(b *bytes.Buffer, r report.Results) error { return report.SARIF(b, r) }

type (
	sarifPlace struct {
		ID               int
		Message          struct{ Text string }
		PhysicalLocation struct {
			ArtifactLocation sarifAddress
			Region           sarifRegion
		}
	}
	sarifAddress struct {
		URI, URIBaseID string
		Index          *int
	}
	sarifRegion struct {
		StartLine, StartColumn, EndLine, EndColumn int
		Snippet                                    struct{ Text string }
	}
	sarifResult struct {
		RuleID, Level       string
		RuleIndex           int
		Message             struct{ Text string }
		Locations           []sarifPlace
		RelatedLocations    []sarifPlace
		PartialFingerprints map[string]string
		Suppressions        []struct{ Kind, Justification string }
		Fixes               []struct {
			ArtifactChanges []struct {
				ArtifactLocation sarifAddress
				Replacements     []struct {
					DeletedRegion   sarifRegion
					InsertedContent struct{ Text string }
				}
			}
		}
	}
	sarifRun struct {
		Tool struct {
			Driver struct {
				Name, Version string
				Rules         []struct {
					ID                                string
					ShortDescription, FullDescription struct{ Text string }
					Help                              struct{ Text, Markdown string }
				}
			}
		}
		Invocations []struct{ ExecutionSuccessful bool }
		Artifacts   []struct{ Location sarifAddress }
		Results     []sarifResult
		ColumnKind  string
	}
)

func readSARIF(t *testing.T, raw []byte) sarifRun {
	t.Helper()
	var log struct {
		Version string
		Runs    []sarifRun
	}
	if err := json.Unmarshal(raw, &log); err != nil {
		t.Fatal(err)
	}
	if log.Version != "2.1.0" || len(log.Runs) != 1 {
		t.Fatalf("version %q, %d runs", log.Version, len(log.Runs))
	}
	return log.Runs[0]
}

func TestEverySARIFOutputHoldsToTheStandardsSchema(t *testing.T) {
	raw, err := os.ReadFile(sarifSchemaFile)
	if err != nil {
		t.Fatal(err)
	}
	if sum := sha256.Sum256(raw); hex.EncodeToString(sum[:]) != sarifSchemaDigest {
		t.Fatal("the schema is not as it was published")
	}
	s := schema(t, sarifSchemaFile)
	for _, r := range corpus() {
		t.Run(r.name, func(t *testing.T) {
			raw := written(t, inSARIF, r.Results)
			holds(t, s, raw)
			checkSARIF(t, r.Results, readSARIF(t, raw))
		})
	}
}

// checkSARIF holds what was read back against the findings, by what the standard says of each field.
func checkSARIF(t *testing.T, r report.Results, run sarifRun) {
	t.Helper()
	if run.ColumnKind != "unicodeCodePoints" || run.Tool.Driver.Version != r.Version {
		t.Errorf("columns are %q, the version is %q", run.ColumnKind, run.Tool.Driver.Version)
	}
	if len(run.Results) != len(r.Findings) {
		t.Fatalf("%d results, %d findings", len(run.Results), len(r.Findings))
	}
	unread := false
	seen := map[string]bool{}
	for i, got := range run.Results {
		f := r.Findings[i]
		unread = unread || f.Rule == "file/unreadable"
		level := map[diag.Severity]string{diag.Error: "error", diag.Warning: "warning", diag.Advice: "note"}[f.Severity]
		if got.RuleID != f.Rule || got.Level != level || run.Tool.Driver.Rules[got.RuleIndex].ID != f.Rule {
			t.Errorf("finding %d: %s at level %s, it is %s, %s", i, got.RuleID, got.Level, f.Rule, f.Severity)
		}
		if said := displayed(got.Message.Text); !strings.Contains(strings.ToLower(said), strings.ToLower(spaced(f.Message))) {
			t.Errorf("%s: a viewer shows %q, the finding says %q", f.Rule, said, f.Message)
		}
		for _, l := range got.Locations {
			checkSARIFPlace(t, run, l, f.At)
		}
		if f.At.Known() != (len(got.Locations) == 1) {
			t.Errorf("%s: %d places", f.Rule, len(got.Locations))
		}
		for k, l := range got.RelatedLocations {
			checkSARIFPlace(t, run, l, f.Related[k].At)
			if l.ID != k+1 || l.Message.Text == "" {
				t.Errorf("%s: related place %d is number %d and says %q", f.Rule, k, l.ID, l.Message.Text)
			}
		}
		if waived := len(got.Suppressions) == 1 && got.Suppressions[0].Kind == "inSource" && got.Suppressions[0].Justification == f.Waived; waived != (f.Waived != "") {
			t.Errorf("%s: waived by %q, told as %v", f.Rule, f.Waived, got.Suppressions)
		}
		if got.Suppressions == nil {
			t.Errorf("%s: no word on whether it is waived: the standard wants it on all results or on none", f.Rule)
		}
		print := got.PartialFingerprints["refitcardFinding/v1"]
		if len(print) != 32 || seen[print] && len(r.Looked) < 2 {
			t.Errorf("%s: the fingerprint %q is no good, or stands twice", f.Rule, print)
		}
		seen[print] = true
		checkSARIFFixes(t, f, got)
	}
	if len(run.Invocations) != 1 || run.Invocations[0].ExecutionSuccessful == unread {
		t.Errorf("told to have succeeded: %v; a file could not be read: %v", run.Invocations, unread)
	}
	for _, rule := range run.Tool.Driver.Rules {
		if text, ok := r.Texts(rule.ID); !ok || displayed(rule.ShortDescription.Text) != text.Title || !strings.Contains(rule.Help.Markdown, "**Why.**") || rule.FullDescription.Text == "" || strings.Contains(rule.Help.Text, "�") {
			t.Errorf("%s: its help is %q", rule.ID, rule.Help.Markdown)
		}
	}
}

// displayed gives a plain text message as a viewer shows it: doubled braces are one (SARIF 2.1.0, 3.11.5). A single brace, or
// words in brackets with brackets behind them, would be a placeholder or a link: the test would see them go.
func displayed(s string) string {
	s = strings.NewReplacer("{{", "\x01", "}}", "\x02", "{", "?", "}", "?", "](", "?").Replace(s)
	return strings.NewReplacer("\x01", "{", "\x02", "}").Replace(s)
}

// spaced makes the one change that a message may need: what looks like a link is parted.
func spaced(s string) string { return strings.ReplaceAll(shown(s), "](", "] (") }

// shown is a text as it may be shown: what could steer a terminal, or turn the order of the letters, is replaced.
func shown(s string) string {
	return strings.Map(func(r rune) rune {
		if r < 0x20 || 0x7f <= r && r < 0xa0 || 0x202a <= r && r <= 0x202e || 0x2066 <= r && r <= 0x2069 {
			return '�'
		}
		return r
	}, s)
}

func checkSARIFPlace(t *testing.T, run sarifRun, l sarifPlace, at source.Span) {
	t.Helper()
	where, region := l.PhysicalLocation.ArtifactLocation, l.PhysicalLocation.Region
	u, err := url.Parse(where.URI)
	if err != nil || u.IsAbs() || strings.HasPrefix(u.Path, "/") || strings.TrimPrefix(u.Path, "./") != at.File.Name {
		t.Errorf("the address %q (%v) is not that of %q", where.URI, err, at.File.Name)
	}
	if where.Index == nil || run.Artifacts[*where.Index].Location.URI != where.URI {
		t.Errorf("%q is not where its number among the artifacts points", where.URI)
	}
	if got := between(at.File, region.StartLine, region.StartColumn, region.EndLine, region.EndColumn); got != at.Text() {
		t.Errorf("the region %v holds %q, the mark is %q", region, got, at.Text())
	}
	if region.Snippet.Text != strings.ToValidUTF8(at.Text(), "�") && strings.ToValidUTF8(at.Text(), "") == at.Text() {
		t.Errorf("the snippet is %q, the mark is %q", region.Snippet.Text, at.Text())
	}
}

func checkSARIFFixes(t *testing.T, f diag.Finding, got sarifResult) {
	t.Helper()
	if len(got.Fixes) != len(f.Fixes) {
		t.Errorf("%s: %d fixes told, there are %d", f.Rule, len(got.Fixes), len(f.Fixes))
		return
	}
	for k, fix := range got.Fixes {
		edits := f.Fixes[k].Edits
		for _, change := range fix.ArtifactChanges {
			for n, r := range change.Replacements {
				d := r.DeletedRegion
				if out := between(edits[n].At.File, d.StartLine, d.StartColumn, d.EndLine, d.EndColumn); out != edits[n].At.Text() || r.InsertedContent.Text != edits[n].Text {
					t.Errorf("%s: the fix puts %q for %q, it was to put %q for %q", f.Rule, r.InsertedContent.Text, out, edits[n].Text, edits[n].At.Text())
				}
			}
		}
	}
}

// A viewer must know a finding again when somebody has written above it.
func TestALineAboveKeepsEveryFingerprint(t *testing.T) {
	files := 0
	for _, r := range corpus() {
		if !strings.HasPrefix(r.name, "faulty/") && !strings.Contains(r.name, "/") || len(r.Findings) == 0 || !r.Findings[0].At.Known() {
			continue
		}
		files++
		before := printsOf(t, r.Results)
		for _, put := range []string{"\n", "A line more.\n", "\n\n1. One step more.\n\n"} {
			after := printsOf(t, moved(r.Results, put))
			if len(before) != len(after) || strings.Join(before, " ") != strings.Join(after, " ") {
				t.Errorf("%s: %q put in above changes the fingerprints", r.name, put)
			}
		}
	}
	if files < 80 {
		t.Errorf("only %d files with findings were moved", files)
	}
}

func printsOf(t *testing.T, r report.Results) []string {
	t.Helper()
	var all []string
	for _, res := range readSARIF(t, written(t, inSARIF, r)).Results {
		all = append(all, res.PartialFingerprints["refitcardFinding/v1"])
	}
	return all
}

// moved gives the findings as they would be with some lines put in at the head of every file.
func moved(r report.Results, put string) report.Results {
	files := map[*source.File]*source.File{}
	shift := func(at source.Span) source.Span {
		if !at.Known() {
			return at
		}
		if files[at.File] == nil {
			files[at.File] = source.New(at.File.Name, at.File.Path, append([]byte(put), at.File.Text...))
		}
		return source.Span{File: files[at.File], Start: at.Start + len(put), End: at.End + len(put)}
	}
	found := append([]diag.Finding{}, r.Findings...)
	for i := range found {
		found[i].At, found[i].Related, found[i].Fixes = shift(found[i].At), nil, nil
	}
	r.Findings = found
	return r
}

// The same with the compiler in between: a remark in the introduction of a real file moves everything below it.
func TestARemarkInTheFileKeepsEveryFingerprint(t *testing.T) {
	const text = "---\ntitle: Renew the guard\nnumber: DR-7\nrevision: A\n---\n\nThe guard of the chain.\n\n## Parts\n\n| Part | Qty |\n|:--|--:|\n| guard | 1 |\n\n## Tools\n\n- none\n\n## Supplies\n\n- none\n\n## Strip\n\n1. {Remove the gaurd}.\n2. {Remove the gaurd}.\n3. {Instal the guard}.\n"
	before := printsOf(t, results(compile(map[string]string{"job.md": text}, "job.md")))
	changed := strings.Replace(text, "The guard of the chain.\n", "The guard of the chain.\n\nKeep clear of it.\n", 1)
	changed = strings.Replace(changed, "1. {Remove the gaurd}.\n2. ", "1. {Check the chain is slack}.\n2. {Remove the gaurd}.\n3. ", 1)
	after := printsOf(t, results(compile(map[string]string{"job.md": changed}, "job.md")))
	if len(before) < 2 || strings.Join(before, " ") != strings.Join(after, " ") {
		t.Errorf("%d fingerprints before, %d after, or others", len(before), len(after))
	}
	other := printsOf(t, results(compile(map[string]string{"job.md": strings.ReplaceAll(text, "gaurd", "gard")}, "job.md")))
	if strings.Join(before, " ") == strings.Join(other, " ") {
		t.Error("other words have the same fingerprints")
	}
}

// Names of files may hold anything: their addresses are valid URIs that lead back to the name, and tell nothing of the machine.
func TestAddressesOfFiles(t *testing.T) {
	s := schema(t, sarifSchemaFile)
	rapid.Check(t, func(rt *rapid.T) {
		name := rapid.StringMatching(`[a-zà-ÿ :%#?\[\]+&;=@"<>\\^|{}]{1,12}(/[a-z .%]{1,6})?\.md`).
			Filter(func(s string) bool { return len(s) < 3 || s[1:3] != ":/" }).Draw(rt, "name") // a letter, ":/" is a drive
		f := source.New(name, name, []byte("x"))
		raw := written(t, inSARIF, results([]diag.Finding{{Rule: "file/no-steps", Severity: diag.Error, At: f.At(0, 1), Message: "m"}}))
		holds(t, s, raw)
		u, err := url.Parse(readSARIF(t, raw).Results[0].Locations[0].PhysicalLocation.ArtifactLocation.URI)
		if err != nil || strings.TrimPrefix(u.Path, "./") != name || u.RawQuery != "" || u.Fragment != "" || u.Scheme != "" {
			rt.Errorf("the address of %q leads to %v (%v)", name, u, err)
		}
	})
	for _, name := range []string{"/home/depot/jobs/winch.md", "C:/jobs/winch.md"} {
		f := source.New(name, "jobs/winch.md", []byte("x"))
		raw := written(t, inSARIF, looked(results([]diag.Finding{{Rule: "file/no-steps", Severity: diag.Error, At: f.At(0, 1), Message: "m"}}), name))
		holds(t, s, raw)
		where := readSARIF(t, raw).Results[0].Locations[0].PhysicalLocation.ArtifactLocation
		if where.URI != "jobs/winch.md" || where.URIBaseID != "LIBRARY" || bytes.Contains(raw, []byte("home")) || bytes.Contains(raw, []byte("C:")) {
			t.Errorf("%q is told as %v", name, where)
		}
	}
}
