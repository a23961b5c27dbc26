package fhir

import (
	"encoding/json"
	"errors"
	"fmt"
	"slices"
	"strings"
)

// Check holds a document Bundle to the six rules that HL7's JSON schema cannot say
// (standards facts, 2.3): one value or one reason why there is none; every
// urn:uuid reference resolves; every fullUrl is unique and lower case; the
// Composition comes first and reaches every other entry; units come from a closed
// list for their code; LOINC codes are ours and have their check digit. Then each resource is held to checkForm.
func Check(document []byte) error {
	var b struct {
		Entry []struct {
			FullURL  string         `json:"fullUrl"`
			Resource map[string]any `json:"resource"`
		} `json:"entry"`
	}
	if err := json.Unmarshal(document, &b); err != nil {
		return fmt.Errorf("it is no JSON: %w", err)
	}
	if len(b.Entry) == 0 || b.Entry[0].Resource["resourceType"] != "Composition" {
		return errors.New("a document begins with its Composition")
	}
	places := map[string]map[string]any{}
	for _, e := range b.Entry {
		if _, twice := places[e.FullURL]; twice || e.FullURL != strings.ToLower(e.FullURL) || !strings.HasPrefix(e.FullURL, "urn:uuid:") {
			return fmt.Errorf("the address %q is not unique, lower case and a urn:uuid", e.FullURL)
		}
		places[e.FullURL] = e.Resource
	}
	for _, e := range b.Entry {
		if err := checkResource(e.Resource, places); err != nil {
			return fmt.Errorf("%s %s: %w", e.Resource["resourceType"], e.FullURL, err)
		}
	}
	return reach(b.Entry[0].FullURL, places)
}

func checkResource(r map[string]any, places map[string]map[string]any) error {
	if r["resourceType"] == "Observation" {
		if err := oneValue(r, true); err != nil {
			return err
		}
	}
	err := checkForm(r)
	walk(r, func(key string, node map[string]any) {
		if err != nil {
			return
		}
		if ref, ok := node["reference"].(string); ok && strings.HasPrefix(ref, "urn:uuid:") && places[ref] == nil {
			err = fmt.Errorf("%s names %s, which is not in the document", key, ref)
		}
		if node["system"] == systemLOINC {
			err = errors.Join(err, checkLOINC(node))
		}
		if node["system"] == systemUCUM {
			err = errors.Join(err, checkUnit(r, node))
		}
	})
	return err
}

// oneValue holds an Observation, or a component of one, to one value or one reason.
func oneValue(r map[string]any, whole bool) error {
	n := 0
	for key := range r {
		if strings.HasPrefix(key, "value") || key == "dataAbsentReason" {
			n++
		}
	}
	if n != 1 {
		return fmt.Errorf("it has %d values or reasons, not one", n)
	}
	parts, _ := r["component"].([]any)
	for _, p := range parts {
		part, ok := p.(map[string]any)
		if !ok || !whole {
			return errors.New("a component is no object")
		}
		if err := oneValue(part, false); err != nil {
			return fmt.Errorf("component: %w", err)
		}
	}
	return nil
}

func checkLOINC(node map[string]any) error {
	code, _ := node["code"].(string)
	if loinc[code] == "" || !CheckDigit(code) {
		return fmt.Errorf("%q is not one of the LOINC codes that are written", code)
	}
	return nil
}

// checkUnit holds a quantity to the units of the code it belongs to.
func checkUnit(r, node map[string]any) error {
	code, _ := node["code"].(string)
	if !slices.Contains(units, code) {
		return fmt.Errorf("%q is not one of the units that are written", code)
	}
	for _, l := range loincOf(r) {
		if !slices.Contains(allowed[l], code) {
			return fmt.Errorf("%q is no unit for LOINC %s", code, l)
		}
	}
	return nil
}

func loincOf(r map[string]any) []string {
	c, _ := r["code"].(map[string]any)
	list, _ := c["coding"].([]any)
	var out []string
	for _, item := range list {
		if one, ok := item.(map[string]any); ok && one["system"] == systemLOINC {
			code, _ := one["code"].(string)
			out = append(out, code)
		}
	}
	return out
}

// walk visits every object beneath a value with the key it stands at.
func walk(v any, visit func(key string, node map[string]any)) {
	switch n := v.(type) {
	case map[string]any:
		for key, child := range n {
			if node, ok := child.(map[string]any); ok {
				visit(key, node)
			}
			if list, ok := child.([]any); ok {
				for _, item := range list {
					if node, ok := item.(map[string]any); ok {
						visit(key, node)
					}
				}
			}
			walk(child, visit)
		}
	case []any:
		for _, item := range n {
			walk(item, visit)
		}
	}
}

// reach follows references from the Composition; whatever is not found is lost to
// a reader of the document.
func reach(first string, places map[string]map[string]any) error {
	seen := map[string]bool{}
	queue := []string{first}
	for len(queue) > 0 {
		at := queue[0]
		queue = queue[1:]
		if seen[at] {
			continue
		}
		seen[at] = true
		walk(places[at], func(_ string, node map[string]any) {
			if ref, ok := node["reference"].(string); ok {
				queue = append(queue, ref)
			}
		})
	}
	for at, r := range places {
		if !seen[at] {
			return fmt.Errorf("nothing leads from the Composition to the %s %s", r["resourceType"], at)
		}
	}
	return nil
}

// CheckDigit says whether a LOINC code ends in its check digit: modulus 10, the
// digits doubled alternately from the right (LOINC Users' Guide, appendix on the
// check digit; the method is that of ISO/IEC 7812-1).
func CheckDigit(code string) bool {
	body, digit, ok := strings.Cut(code, "-")
	if !ok || body == "" || len(digit) != 1 {
		return false
	}
	sum, double := 0, true
	for i := len(body) - 1; i >= 0; i-- {
		d := int(body[i] - '0')
		if d < 0 || d > 9 {
			return false
		}
		if double {
			if d *= 2; d > 9 {
				d -= 9
			}
		}
		double = !double
		sum += d
	}
	return int(digit[0]-'0') == (10-sum%10)%10
}
