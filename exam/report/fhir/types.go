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
		ValueString          string      `json:"valueString,omitempty"`
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
		Text         *narrative  `json:"text,omitempty"`
		Identifier   *identifier `json:"identifier,omitempty"`
		Status       string      `json:"status"`
		Type         concept     `json:"type"`
		Subject      reference   `json:"subject"`
		Encounter    reference   `json:"encounter"`
		Date         string      `json:"date"`
		Author       []reference `json:"author"`
		Title        string      `json:"title"`
		Attester     []attester  `json:"attester,omitempty"`
		Custodian    *reference  `json:"custodian,omitempty"`
		RelatesTo    []relation  `json:"relatesTo,omitempty"`
		Section      []section   `json:"section,omitempty"`
	}
	attester struct {
		Mode  string    `json:"mode"`
		Time  string    `json:"time"`
		Party reference `json:"party"`
	}
	relation struct {
		Code             string     `json:"code"`
		TargetIdentifier identifier `json:"targetIdentifier"`
	}
	organization struct {
		ResourceType string    `json:"resourceType"`
		ID           string    `json:"id"`
		Name         string    `json:"name"`
		Telecom      []telecom `json:"telecom,omitempty"`
		Address      []name    `json:"address,omitempty"`
	}
	communication struct {
		ResourceType string      `json:"resourceType"`
		ID           string      `json:"id"`
		InResponseTo []reference `json:"inResponseTo,omitempty"`
		Status       string      `json:"status"`
		Category     []concept   `json:"category"`
		Medium       []concept   `json:"medium,omitempty"`
		Subject      reference   `json:"subject"`
		About        []reference `json:"about,omitempty"`
		Encounter    reference   `json:"encounter"`
		Sent         string      `json:"sent"`
		Recipient    []reference `json:"recipient"`
		Sender       reference   `json:"sender"`
		Payload      []payload   `json:"payload"`
	}
	payload struct {
		ContentString string `json:"contentString"`
	}
	medicationRequest struct {
		ResourceType              string        `json:"resourceType"`
		ID                        string        `json:"id"`
		Status                    string        `json:"status"`
		Intent                    string        `json:"intent"`
		MedicationCodeableConcept concept       `json:"medicationCodeableConcept"`
		Subject                   reference     `json:"subject"`
		Encounter                 reference     `json:"encounter"`
		AuthoredOn                string        `json:"authoredOn"`
		Requester                 reference     `json:"requester"`
		DosageInstruction         []instruction `json:"dosageInstruction"`
	}
	instruction struct {
		Text string `json:"text"`
	}
	serviceRequest struct {
		ResourceType       string    `json:"resourceType"`
		ID                 string    `json:"id"`
		Status             string    `json:"status"`
		Intent             string    `json:"intent"`
		Code               concept   `json:"code"`
		Subject            reference `json:"subject"`
		Encounter          reference `json:"encounter"`
		OccurrenceDateTime string    `json:"occurrenceDateTime,omitempty"`
		AuthoredOn         string    `json:"authoredOn"`
		Requester          reference `json:"requester"`
		ReasonCode         []concept `json:"reasonCode,omitempty"`
	}
	flag struct {
		ResourceType string    `json:"resourceType"`
		ID           string    `json:"id"`
		Status       string    `json:"status"`
		Category     []concept `json:"category"`
		Code         concept   `json:"code"`
		Subject      reference `json:"subject"`
		Encounter    reference `json:"encounter"`
	}
	section struct {
		Title string      `json:"title"`
		Code  *concept    `json:"code,omitempty"`
		Text  *narrative  `json:"text,omitempty"`
		Entry []reference `json:"entry,omitempty"`
	}
	patient struct {
		ResourceType string       `json:"resourceType"`
		ID           string       `json:"id"`
		Text         *narrative   `json:"text,omitempty"`
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
		ResourceType  string          `json:"resourceType"`
		ID            string          `json:"id"`
		Identifier    []identifier    `json:"identifier"`
		Name          []name          `json:"name"`
		Qualification []qualification `json:"qualification,omitempty"`
	}
	qualification struct {
		Code concept `json:"code"`
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
