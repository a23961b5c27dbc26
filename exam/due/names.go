package due

import (
	"strings"
	"sync"
)

var builtInNames = sync.OnceValue(func() map[string]string {
	names := map[string]string{}
	list, _ := listOf("tables/diseases.csv", "disease", "name") // a damaged table ends the program at BuiltIn
	for _, p := range list {
		names[p.Cells[0]] = p.Cells[1]
	}
	return names
})

// Names is what the keys of diseases stand for, with commas between them, for a
// person; a key that is not known stands as it is, with spaces.
func Names(diseases []string) string {
	out := make([]string, len(diseases))
	for i, key := range diseases {
		name, ok := builtInNames()[key]
		if !ok {
			name = strings.ReplaceAll(key, "_", " ")
		}
		out[i] = name
	}
	return strings.Join(out, ", ")
}

// KeyNamed is the key of the disease with a name, or with that key, whatever the case; false where none has it.
func KeyNamed(name string) (string, bool) {
	for key, n := range builtInNames() {
		if strings.EqualFold(n, name) || strings.EqualFold(key, name) {
			return key, true
		}
	}
	return "", false
}
