package fhir

// The resources of a visit: who, what was found, and what was said.
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
		BornAt       *element     `json:"_birthDate,omitempty"`
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
		Type         []concept     `json:"type"`
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
		ValueDateTime        string           `json:"valueDateTime,omitempty"`
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
