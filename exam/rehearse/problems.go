package rehearse

import "strings"

// list joins the words that could have been meant.
func list[T ~string](words []T) string {
	text := make([]string, len(words))
	for i, w := range words {
		text[i] = string(w)
	}
	return strings.Join(text, ", ")
}
