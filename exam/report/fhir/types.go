package fhir

// The few types of R4 that are written, with what is filled of them. Ready-made
// models exist, but write both forms of a choice element ("effectiveDateTime" and
// an empty "effectivePeriod"), which R4 forbids.
type (
	coding struct {
		System  string `json:"system,omitempty"`
		Code    string `json:"code,omitempty"`
		Display string `json:"display,omitempty"`
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
		System string `json:"system,omitempty"`
		Value  string `json:"value"`
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
		Extension            []extension `json:"extension,omitempty"`
	}
	narrative struct {
		Status string `json:"status"`
		Div    string `json:"div"`
	}
	name struct {
		Text string `json:"text"`
	}
	performer struct {
		Actor reference `json:"actor"`
	}
)

type (
	composition struct {
		ResourceType string      `json:"resourceType"`
		ID           string      `json:"id"`
		Status       string      `json:"status"`
		Type         concept     `json:"type"`
		Subject      reference   `json:"subject"`
		Encounter    reference   `json:"encounter"`
		Date         string      `json:"date"`
		Author       []reference `json:"author"`
		Title        string      `json:"title"`
		Section      []section   `json:"section,omitempty"`
	}
	section struct {
		Title string      `json:"title"`
		Text  *narrative  `json:"text,omitempty"`
		Entry []reference `json:"entry,omitempty"`
	}
	patient struct {
		ResourceType string       `json:"resourceType"`
		ID           string       `json:"id"`
		Extension    []extension  `json:"extension"`
		Identifier   []identifier `json:"identifier,omitempty"`
		Name         []name       `json:"name"`
		Gender       string       `json:"gender"`
		BirthDate    string       `json:"birthDate,omitempty"`
		Contact      []contact    `json:"contact,omitempty"`
	}
	contact struct {
		Relationship []concept `json:"relationship"`
		Name         name      `json:"name"`
		Telecom      []telecom `json:"telecom,omitempty"`
		Address      *name     `json:"address,omitempty"`
	}
	telecom struct {
		System string `json:"system"`
		Value  string `json:"value"`
	}
	practitioner struct {
		ResourceType string `json:"resourceType"`
		ID           string `json:"id"`
		Name         []name `json:"name"`
	}
	encounter struct {
		ResourceType string        `json:"resourceType"`
		ID           string        `json:"id"`
		Status       string        `json:"status"`
		Class        coding        `json:"class"`
		Subject      reference     `json:"subject"`
		Participant  []participant `json:"participant,omitempty"`
		Period       period        `json:"period"`
		ReasonCode   []concept     `json:"reasonCode,omitempty"`
	}
	participant struct {
		Individual reference `json:"individual"`
	}
	observation struct {
		ResourceType         string           `json:"resourceType"`
		ID                   string           `json:"id"`
		Status               string           `json:"status"`
		Category             []concept        `json:"category"`
		Code                 concept          `json:"code"`
		Subject              reference        `json:"subject"`
		Encounter            reference        `json:"encounter"`
		EffectiveDateTime    string           `json:"effectiveDateTime"`
		Performer            []reference      `json:"performer"`
		ValueQuantity        *quantity        `json:"valueQuantity,omitempty"`
		ValueCodeableConcept *concept         `json:"valueCodeableConcept,omitempty"`
		ValueString          string           `json:"valueString,omitempty"`
		DataAbsentReason     *concept         `json:"dataAbsentReason,omitempty"`
		Interpretation       []concept        `json:"interpretation,omitempty"`
		Note                 []annotation     `json:"note,omitempty"`
		BodySite             *concept         `json:"bodySite,omitempty"`
		Method               *concept         `json:"method,omitempty"`
		ReferenceRange       []referenceRange `json:"referenceRange,omitempty"`
		Component            []component      `json:"component,omitempty"`
	}
	referenceRange struct {
		Low  *quantity `json:"low,omitempty"`
		High *quantity `json:"high,omitempty"`
		Text string    `json:"text"`
	}
	component struct {
		Code         concept `json:"code"`
		ValueBoolean bool    `json:"valueBoolean"`
	}
)

type (
	medication struct {
		ResourceType string       `json:"resourceType"`
		ID           string       `json:"id"`
		Code         concept      `json:"code"`
		Manufacturer *reference   `json:"manufacturer,omitempty"`
		Ingredient   []ingredient `json:"ingredient,omitempty"`
		Batch        *batch       `json:"batch,omitempty"`
	}
	ingredient struct {
		ItemCodeableConcept concept `json:"itemCodeableConcept"`
	}
	batch struct {
		LotNumber      string `json:"lotNumber,omitempty"`
		ExpirationDate string `json:"expirationDate,omitempty"`
	}
	administration struct {
		ResourceType        string       `json:"resourceType"`
		ID                  string       `json:"id"`
		Status              string       `json:"status"`
		MedicationReference reference    `json:"medicationReference"`
		Subject             reference    `json:"subject"`
		Context             reference    `json:"context"`
		EffectiveDateTime   string       `json:"effectiveDateTime"`
		Performer           []performer  `json:"performer"`
		Note                []annotation `json:"note,omitempty"`
		Dosage              *dosage      `json:"dosage,omitempty"`
	}
	dosage struct {
		Text  string    `json:"text,omitempty"`
		Site  *concept  `json:"site,omitempty"`
		Route *concept  `json:"route,omitempty"`
		Dose  *quantity `json:"dose,omitempty"`
	}
	immunization struct {
		ResourceType       string       `json:"resourceType"`
		ID                 string       `json:"id"`
		Status             string       `json:"status"`
		VaccineCode        concept      `json:"vaccineCode"`
		Patient            reference    `json:"patient"`
		Encounter          reference    `json:"encounter"`
		OccurrenceDateTime string       `json:"occurrenceDateTime"`
		PrimarySource      bool         `json:"primarySource"`
		ReportOrigin       *concept     `json:"reportOrigin,omitempty"`
		Manufacturer       *reference   `json:"manufacturer,omitempty"`
		LotNumber          string       `json:"lotNumber,omitempty"`
		ExpirationDate     string       `json:"expirationDate,omitempty"`
		Site               *concept     `json:"site,omitempty"`
		Route              *concept     `json:"route,omitempty"`
		DoseQuantity       *quantity    `json:"doseQuantity,omitempty"`
		Performer          []performer  `json:"performer"`
		Note               []annotation `json:"note,omitempty"`
		ReasonCode         []concept    `json:"reasonCode,omitempty"`
	}
	procedure struct {
		ResourceType    string       `json:"resourceType"`
		ID              string       `json:"id"`
		Status          string       `json:"status"`
		Code            concept      `json:"code"`
		Subject         reference    `json:"subject"`
		Encounter       reference    `json:"encounter"`
		PerformedPeriod period       `json:"performedPeriod"`
		Performer       []performer  `json:"performer"`
		ReasonCode      []concept    `json:"reasonCode,omitempty"`
		BodySite        []concept    `json:"bodySite,omitempty"`
		Note            []annotation `json:"note,omitempty"`
	}
	specimen struct {
		ResourceType string       `json:"resourceType"`
		ID           string       `json:"id"`
		Type         concept      `json:"type"`
		Subject      reference    `json:"subject"`
		Collection   collection   `json:"collection"`
		Container    []container  `json:"container"`
		Note         []annotation `json:"note,omitempty"`
	}
	collection struct {
		Collector         reference `json:"collector"`
		CollectedDateTime string    `json:"collectedDateTime"`
		Quantity          *quantity `json:"quantity,omitempty"`
		BodySite          *concept  `json:"bodySite,omitempty"`
	}
	container struct {
		Type concept `json:"type"`
	}
	provenance struct {
		ResourceType string      `json:"resourceType"`
		ID           string      `json:"id"`
		Target       []reference `json:"target"`
		Recorded     string      `json:"recorded"`
		Agent        []agent     `json:"agent"`
		Entity       []entity    `json:"entity"`
	}
	agent struct {
		Type concept   `json:"type"`
		Who  reference `json:"who"`
	}
	entity struct {
		Role string    `json:"role"`
		What reference `json:"what"`
	}
	bundle struct {
		ResourceType string     `json:"resourceType"`
		Identifier   identifier `json:"identifier"`
		Type         string     `json:"type"`
		Timestamp    string     `json:"timestamp"`
		Entry        []entry    `json:"entry"`
	}
	entry struct {
		FullURL  string `json:"fullUrl"`
		Resource any    `json:"resource"`
	}
)
