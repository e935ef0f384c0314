package source

import (
	"encoding/json"
	"testing"
)

func TestPlain(t *testing.T) {
	const hostile = "a\x1b[2J\r\nb\u009b1m\u202ecba\u202c\u2066x\u2069\t\x7f é 日本"
	if got, want := Plain(hostile), "a�[2J��b�1m�cba��x��� é 日本"; got != want {
		t.Errorf("a line: %q, not %q", got, want)
	}
	if got, want := PlainLines(hostile), "a�[2J�\nb�1m�cba��x�\t� é 日本"; got != want {
		t.Errorf("lines: %q, not %q", got, want)
	}
}

func TestPlainJSONMeansTheSame(t *testing.T) {
	const hostile = "a\x1b\u009b\u202ecba\u202c\x7f\u2069 é \U0001f527"
	data, err := json.MarshalIndent(map[string]string{hostile: hostile}, "", "\t")
	if err != nil {
		t.Fatal(err)
	}
	plain := PlainJSON(data)
	for _, r := range string(plain) {
		if Steers(r) && r != '\n' && r != '\t' {
			t.Errorf("%q is left in %q", r, plain)
		}
	}
	var back map[string]string
	if err := json.Unmarshal(plain, &back); err != nil || back[hostile] != hostile {
		t.Errorf("reads back as %q, %v", back, err)
	}
}
