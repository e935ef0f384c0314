package include

// how says by which way a path leaves the library.
func how(way string) string {
	switch way {
	case "absolute":
		return ": it is an absolute path"
	case "link":
		return " through a link"
	}
	return ""
}
