package line

import "strings"

// Join makes one line of the arguments of a command. The shell has taken
// the quotes away from a value with spaces; they are put back.
func Join(args []string) string {
	parts := make([]string, len(args))
	for i, arg := range args {
		parts[i] = requote(arg)
	}
	return strings.Join(parts, " ")
}

// requote puts quotes around the value of a key, up to the note, if what stands
// behind its first word would be no parts of their own.
func requote(arg string) string {
	key, rest, pair := strings.Cut(arg, "=")
	_, known := keyFor(strings.ToLower(key))
	if !pair || !known || strings.Contains(rest, `"`) {
		return arg
	}
	value, note, noted := strings.Cut(rest, ";")
	words, _, err := splitLine(arg[:len(key)+1+len(value)])
	if err != nil || len(words) == 0 || areParts(joinParts(words)[1:]) {
		return arg
	}
	arg = key + `="` + strings.TrimSpace(value) + `"`
	if noted {
		arg += " ;" + note
	}
	return arg
}

func areParts(parts []part) bool {
	var r lineReader
	for _, p := range parts {
		if _, _, err := r.meaning(p); err != nil {
			return false
		}
	}
	return true
}
