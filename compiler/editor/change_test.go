package editor_test

import (
	"bytes"
	"maps"
	"math/rand/v2"
	"os"
	"slices"
	"strings"
	"testing"
	"testing/fstest"

	"refitcard/compiler/diag"
	"refitcard/compiler/editor"
	"refitcard/compiler/source"
)

// renamed makes the edits of a renaming and gives the texts of all files then.
func renamed(t *testing.T, files map[string]string, path string, offset int, name string) (map[string]string, error) {
	t.Helper()
	fsys := fstest.MapFS{}
	for p, text := range files {
		fsys[p] = &fstest.MapFile{Data: []byte(text)}
	}
	s := editor.NewShelf(fsys)
	host := path
	if !strings.HasPrefix(files[path], "---") {
		host = "job.md"
	}
	r, err := s.Compile(host)
	if err != nil {
		t.Fatal(err)
	}
	v, ok := editor.Look(r, path)
	if !ok {
		t.Fatalf("%s is not read", path)
	}
	edits, err := s.Rename(v, offset, name)
	if err != nil {
		return nil, err
	}
	now := map[string]string{}
	for p, text := range files {
		now[p] = string(diag.Apply(source.New(p, p, []byte(text)), edits))
	}
	return now, nil
}

// With the old name put back the texts are what they were: nothing but the name was touched, in every form.
func TestRenameTouchesTheNameAlone(t *testing.T) {
	for _, c := range []struct {
		at, name string
		count    int // of words of the new name that stand nowhere else
		word     string
		back     []string
	}{
		{"cover bolts} with", "bay screw", 5, "bay screw", []string{"bay screws", "cover bolts", "bay screw", "cover bolt"}},
		{"cover bolt   |", "end screw", 5, "end screw", []string{"an end screw", "a cover bolt", "end screws", "cover bolts", "end screw", "cover bolt"}},
		{"end cover}, then", "bearing cap", 6, "bearing cap", []string{"bearing cap", "end cover"}},
		{"knife leaves}.\n\n## Refit", "blade halves", 3, "blade hal", []string{"blade halves", "knife leaves", "blade half", "knife leaf"}},
		{"gear oil}. {Check", "box oil", 4, "box oil", []string{"box oil", "gear oil"}},
		{"6 mm hex key}", "6 mm bent hex key", 2, "bent", []string{"6 mm bent hex key", "6 mm hex key"}},
		{"torque wrench, 5–50 N·m}", "click torque wrench", 4, "click", []string{"click torque wrench", "torque wrench"}},
		{"first}.", "begin", 2, "begin", []string{"begin", "first"}},
	} {
		now, err := renamed(t, map[string]string{"job.md": job}, "job.md", strings.Index(job, c.at), c.name)
		if err != nil {
			t.Errorf("%q: %v", c.name, err)
			continue
		}
		text := now["job.md"]
		if got := strings.Count(text, c.word); got != c.count {
			t.Errorf("%q stands there %d times, want %d:\n%s", c.word, got, c.count, text)
		}
		if back := strings.NewReplacer(c.back...).Replace(text); back != job {
			t.Errorf("%q: more was touched than the name:\n%s", c.name, text)
		}
	}
}

func TestRenameKeepsCapitals(t *testing.T) {
	text := strings.Replace(strings.Replace(job, "{Check the cover", "{Check End Cover and RW end cover", 1), "| knife leaf   |", "| O-ring       |", 1)
	text = strings.ReplaceAll(text, "knife leaves", "o-rings")
	for _, c := range []struct {
		at, name string
		want     []string
	}{
		{"end cover    |", "lid", []string{"| lid    |", "{Remove the lid}", "{Check Lid and RW lid"}},
		{"end cover    |", "RW40 lid", []string{"| RW40 lid    |", "{Check RW40 lid and RW RW40 lid"}},
		{"O-ring", "Lip seal", []string{"| Lip seal       |", "{Remove both lip seals}"}},
		{"O-ring", "V-ring", []string{"| V-ring       |", "{Remove both v-rings}"}},
	} {
		now, err := renamed(t, map[string]string{"job.md": text}, "job.md", strings.Index(text, c.at), c.name)
		if err != nil {
			t.Fatal(err)
		}
		for _, want := range c.want {
			if !strings.Contains(now["job.md"], want) {
				t.Errorf("it lacks %q:\n%s", want, now["job.md"])
			}
		}
	}
}

func TestRenameIsRefusedWithAReason(t *testing.T) {
	for _, c := range []struct{ at, name, want string }{
		{"cover bolts} with", "end cover", `"end cover" is a part already, job.md line 15`},
		{"cover bolts} with", "gear oil", `"gear oil" is a supply already`},
		{"gear oil}. {Check", "drain pan", `"drain pan" is a tool already`},
		{"cover bolt   |", "knife leaves", `"knife leaf" is a part already`},
		{"cover bolts} with", "", "give a name"},
		{"cover bolts} with", "a | b", "has a character that no name may have"},
		{"cover bolts} with", "a\nb", "has a character that no name may have"},
		{"6 mm hex key}", "8 mm hex key", "would be another kind or size of tool"},
		{"first}.", "two words", "a label is one word"},
		{"Covers the", "lid", "no part, tool, supply or label is named here"},
		{"cover bolts} with", "12", "would"},
		{"end cover}, then", "the", "would be"},
		{"end cover}, then", "lid and catch of the", "would be"},
	} {
		_, err := renamed(t, map[string]string{"job.md": job}, "job.md", strings.Index(job, c.at), c.name)
		if err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%q: %v, want %q", c.name, err, c.want)
		}
	}
}

// A name that is shared through an included file changes wherever it is used.
func TestRenameGoesThroughIncludes(t *testing.T) {
	safe := "## Parts\n\n| Part | Qty |\n|:--|--:|\n| guard | 1 |\n\n## Make safe\n\n1. {Remove the guard}.\n"
	host := strings.Replace(job, "## Strip", "## Before\n\n{include safe.md}\n\n## Strip", 1)
	host = strings.Replace(host, "{Check the cover is dry}", "{Install the guard}. {Check the cover is dry}", 1)
	again := strings.Replace(strings.Replace(host, "SD-1", "SD-2", 1), "| knife leaf", "| guard | 1 |\n| knife leaf", 1)
	alone := strings.Replace(job, "{Check the cover is dry}", "{Check the guard is dry}", 1)
	files := map[string]string{"job.md": host, "again.md": again, "alone.md": alone, "safe.md": safe}
	for _, from := range []string{"job.md", "safe.md"} {
		now, err := renamed(t, files, from, strings.Index(files[from], "guard"), "rope shield")
		if err != nil {
			t.Errorf("from %s: %v", from, err)
			continue
		}
		for path, was := range files {
			want := strings.ReplaceAll(was, "guard", "rope shield")
			if path == "alone.md" {
				want = was // it has nothing to do with the others
			}
			if now[path] != want {
				t.Errorf("from %s, %s is now:\n%s", from, path, now[path])
			}
		}
	}
	files["again.md"] = strings.Replace(again, "- gear oil", "- rope shield, 1\n- gear oil", 1)
	if _, err := renamed(t, files, "job.md", strings.Index(host, "guard"), "rope shield"); err == nil || !strings.Contains(err.Error(), "again.md line") {
		t.Errorf("a collision in another procedure: %v", err)
	}
}

// In every text of the tests each name can be changed, or there is a reason; what is changed comes back the same way.
func TestRenameThereAndBack(t *testing.T) {
	done, refused := 0, map[string]int{}
	texts := corpus(t)
	for i, name := range slices.Sorted(maps.Keys(texts)) {
		if i%6 != 0 && os.Getenv("REFITCARD_LONG") == "" {
			continue
		}
		text := texts[name]
		_, v := viewOf(t, text)
		seen := map[editor.Thing]bool{}
		for offset := 0; offset <= len(v.File.Text); offset += 7 {
			u, ok := v.UseAt(offset)
			if !ok || seen[u.Thing] || u.Thing.Sort == editor.Tool {
				continue
			}
			seen[u.Thing] = true
			at, old, err := v.Named(u.At.Start)
			if err != nil {
				continue
			}
			words := strings.Fields(old) // the last word tells what it is
			mid, err := renamed(t, map[string]string{"job.md": string(text)}, "job.md", at.Start, "zorble "+words[len(words)-1])
			if err != nil {
				why, _, _ := strings.Cut(err.Error(), ":")
				refused[why]++
				continue
			}
			place := strings.Index(strings.TrimPrefix(mid["job.md"], "\ufeff"), "zorble")
			back, err := renamed(t, mid, "job.md", place, old)
			if err != nil {
				t.Errorf("%s: %q was changed and does not come back: %v", name, old, err)
				continue
			}
			if lower := strings.ToLower; lower(back["job.md"]) != lower(string(text)) && !strings.Contains(string(text), "-") {
				t.Errorf("%s: %q comes back otherwise:\n%s", name, old, back["job.md"])
			}
			done++
		}
	}
	t.Logf("%d names changed, refused: %v", done, refused)
	if done < 200 {
		t.Errorf("only %d names were changed", done)
	}
}

func TestMendMakesWhatIsSafe(t *testing.T) {
	text := strings.Replace(strings.Replace(job, "{Remove 12 cover bolts}", "{Remove 12 cover botls}", 1), "{Install the end", "{Instal the end", 1)
	s, v := viewOf(t, []byte(text))
	fixes := v.Fixes(0, len(text))
	if len(fixes) == 0 || !fixes[0].Safe {
		t.Errorf("fixes on offer: %+v", fixes)
	}
	before, now := s.Mend(v)
	if string(before) != text || string(now) != job {
		t.Errorf("mended:\n%s", now)
	}
	s, v = viewOf(t, []byte(job))
	if before, now := s.Mend(v); !bytes.Equal(before, now) {
		t.Errorf("a clean text was mended:\n%s", now)
	}
}

func TestTidyKeepsTheMeaning(t *testing.T) {
	text := strings.Replace(job, "| cover bolt   |  12 | M8×30 8.8 socket |        |", "|cover bolt|12|M8x30 8.8 socket||", 1)
	s, v := viewOf(t, []byte(text))
	_, now, err := s.Tidy(v)
	if err != nil || !strings.Contains(string(now), "| cover bolt   |  12 | M8×30 8.8 socket |") {
		t.Errorf("%v:\n%s", err, now)
	}
	s, v = viewOf(t, []byte(strings.Replace(job, "{Drain the gear oil}", "{Drain the gear oil", 1)))
	if _, _, err := s.Tidy(v); err == nil || !strings.Contains(err.Error(), "can't be read as meant (tag/unclosed)") {
		t.Errorf("a broken tag: %v", err)
	}
}

// The changes from any text to any other, made by the one place that makes edits, give the other.
func TestEditsLeadFromOneTextToTheOther(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 2))
	pieces := []string{"\n", "\r\n", "a", "b", "é", "🔧", "|", "\xff", "  ", "c\nd\n", "\ufeff", ""}
	random := func() []byte {
		var b strings.Builder
		for range r.IntN(20) {
			b.WriteString(pieces[r.IntN(len(pieces))])
		}
		return []byte(b.String())
	}
	for range 20_000 {
		was, now := random(), random()
		if r.IntN(2) == 0 && len(was) > 0 {
			now = append(bytes.Clone(was[:r.IntN(len(was))]), now...)
		}
		if bytes.HasPrefix(was, []byte("\ufeff")) != bytes.HasPrefix(now, []byte("\ufeff")) {
			continue // who tidies and mends keeps the mark
		}
		f := source.New("a.md", "a.md", was)
		edits := editor.Edits(f, was, now)
		if got := diag.Apply(f, edits); !bytes.Equal(got, now) {
			t.Fatalf("from %q to %q comes %q by %+v", was, now, got, edits)
		}
	}
}
