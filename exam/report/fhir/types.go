package fhir

// The few types of R4 that are written, with what is filled of them. Ready-made
// models exist, but write both forms of a choice element ("effectiveDateTime" and
// an empty "effectivePeriod"), which R4 forbids.
type (
	coding struct {
		System    string      `json:"system,omitempty"`
		Code      string      `json:"code,omitempty"`
		Display   string      `json:"display,omitempty"`
		Extension []extension `json:"extension,omitempty"`
	}
	concept struct {
		Coding []coding `json:"coding,omitempty"`
		Text   string   `json:"text,omitempty"`
	}
	reference struct {
		Reference  string      `json:"reference,omitempty"`
		Identifier *identifier `json:"identifier,omitempty"`
		Display    string      `json:"display,omitempty"`
	}
	identifier struct {
		Use    string   `json:"use,omitempty"`
		Type   *concept `json:"type,omitempty"`
		System string   `json:"system,omitempty"`
		Value  string   `json:"value"`
	}
	quantity struct {
		Value      float64 `json:"value"`
		Comparator string  `json:"comparator,omitempty"`
		Unit       string  `json:"unit,omitempty"`
		System     string  `json:"system,omitempty"`
		Code       string  `json:"code,omitempty"`
	}
	period struct {
		Start string `json:"start,omitempty"`
		End   string `json:"end,omitempty"`
	}
	annotation struct {
		AuthorString string `json:"authorString,omitempty"`
		Time         string `json:"time,omitempty"`
		Text         string `json:"text"`
	}
	extension struct {
		URL                  string      `json:"url"`
		ValueCodeableConcept *concept    `json:"valueCodeableConcept,omitempty"`
		ValueDate            string      `json:"valueDate,omitempty"`
		ValueDecimal         *float64    `json:"valueDecimal,omitempty"`
		ValueBoolean         bool        `json:"valueBoolean,omitempty"` // false is left out
		ValueString          string      `json:"valueString,omitempty"`
		ValueDateTime        string      `json:"valueDateTime,omitempty"`
		Extension            []extension `json:"extension,omitempty"`
	}
	// element is what stands beside a value of a simple type.
	element struct {
		Extension []extension `json:"extension"`
	}
	narrative struct {
		Status string `json:"status"`
		Div    string `json:"div"`
	}
	name struct {
		Text   string   `json:"text,omitempty"`
		Given  []string `json:"given,omitempty"`
		Family string   `json:"family,omitempty"`
	}
	performer struct {
		Actor reference `json:"actor"`
	}
)
