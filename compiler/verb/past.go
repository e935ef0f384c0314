package verb

import "strings"

// Past gives the form of a verb behind "is": "closed", "locked off", "put in". A shop's own verbs follow the common rule.
func Past(name string) string {
	word, rest, _ := strings.Cut(name, " ")
	if rest != "" {
		rest = " " + rest
	}
	switch word {
	case "insert":
		return "put in" + rest
	case "set", "shut", "put", "cut":
		return name
	case "cap", "uncap", "plug", "unplug", "clip", "pin", "unpin", "tap", "strap":
		return word + word[len(word)-1:] + "ed" + rest
	case "withdraw":
		return "withdrawn" + rest
	case "undo":
		return "undone" + rest
	case "take":
		return "taken" + rest
	case "strike":
		return "struck" + rest
	}
	if strings.HasSuffix(word, "e") {
		return word + "d" + rest
	}
	return word + "ed" + rest
}
