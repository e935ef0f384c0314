package file

// sample gives a value that shows what a required key holds.
func sample(key string) string {
	switch key {
	case "title":
		return "Reseal the end cover of the rake winch"
	case "number":
		return "SD-114"
	}
	return "A"
}
