package intake

import (
	"encoding/json"
	"regexp"
	"strings"
)

var (
	plainText = regexp.MustCompile(`^[A-Za-z][A-Za-z0-9 ._/()-]*$`)
	reserved  = regexp.MustCompile(`(?i)^(y|n|yes|no|on|off|true|false|null|nan|inf)$`)
)

// yamlText writes a text so that YAML reads it as that text and nothing else.
func yamlText(text string) string {
	if plainText.MatchString(text) && !reserved.MatchString(text) && text == strings.TrimSpace(text) {
		return text
	}
	quoted, err := json.Marshal(text) // of JSON every text is one of YAML
	if err != nil {
		return `""`
	}
	return strings.NewReplacer(`\u003c`, "<", `\u003e`, ">", `\u0026`, "&").Replace(string(quoted))
}
