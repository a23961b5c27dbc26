package fhir

// The resources of what was given and taken, and the document that holds all.
type (
	medication struct {
		ResourceType string       `json:"resourceType"`
		ID           string       `json:"id"`
		Extension    []extension  `json:"extension,omitempty"`
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
		Extension           []extension  `json:"extension,omitempty"`
		Status              string       `json:"status"`
		StatusReason        []concept    `json:"statusReason,omitempty"`
		MedicationReference reference    `json:"medicationReference"`
		Subject             reference    `json:"subject"`
		Context             reference    `json:"context"`
		EffectiveDateTime   string       `json:"effectiveDateTime"`
		Performer           []performer  `json:"performer"`
		Request             *reference   `json:"request,omitempty"`
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
		Extension          []extension  `json:"extension,omitempty"`
		Status             string       `json:"status"`
		StatusReason       *concept     `json:"statusReason,omitempty"`
		VaccineCode        concept      `json:"vaccineCode"`
		Patient            reference    `json:"patient"`
		Encounter          *reference   `json:"encounter,omitempty"`
		OccurrenceDateTime string       `json:"occurrenceDateTime,omitempty"`
		OccurrenceString   string       `json:"occurrenceString,omitempty"`
		Recorded           string       `json:"recorded,omitempty"`
		PrimarySource      bool         `json:"primarySource"`
		ReportOrigin       *concept     `json:"reportOrigin,omitempty"`
		Manufacturer       *reference   `json:"manufacturer,omitempty"`
		LotNumber          string       `json:"lotNumber,omitempty"`
		ExpirationDate     string       `json:"expirationDate,omitempty"`
		Site               *concept     `json:"site,omitempty"`
		Route              *concept     `json:"route,omitempty"`
		DoseQuantity       *quantity    `json:"doseQuantity,omitempty"`
		Performer          []performer  `json:"performer,omitempty"`
		Note               []annotation `json:"note,omitempty"`
		IsSubpotent        *bool        `json:"isSubpotent,omitempty"`
		SubpotentReason    []concept    `json:"subpotentReason,omitempty"`
		ProtocolApplied    []protocol   `json:"protocolApplied,omitempty"`
	}
	protocol struct {
		TargetDisease    []concept `json:"targetDisease"`
		DoseNumberString string    `json:"doseNumberString"`
	}
	procedure struct {
		ResourceType    string       `json:"resourceType"`
		ID              string       `json:"id"`
		BasedOn         []reference  `json:"basedOn,omitempty"`
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
		Activity     *concept    `json:"activity,omitempty"`
		Agent        []agent     `json:"agent"`
		Entity       []entity    `json:"entity,omitempty"`
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
