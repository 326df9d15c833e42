/** Names of the code systems of FHIR R4. They are names, not addresses that are asked for. */
export const systems = {
  loinc: 'http://loinc.org',
  units: 'http://unitsofmeasure.org',
  nullFlavor: 'http://terminology.hl7.org/CodeSystem/v3-NullFlavor',
  actReason: 'http://terminology.hl7.org/CodeSystem/v3-ActReason',
  absent: 'http://terminology.hl7.org/CodeSystem/data-absent-reason',
  deviceAction: 'http://hl7.org/fhir/device-action',
  gs1: 'http://hl7.org/fhir/NamingSystem/gs1-di',
  uri: 'urn:ietf:rfc:3986',
} as const;

/** Names of the two standard extensions that are used where an answer was not given. */
export const extensions = {
  absent: 'http://hl7.org/fhir/StructureDefinition/data-absent-reason',
  words: 'http://hl7.org/fhir/StructureDefinition/originalText',
} as const;

export const xhtml = 'http://www.w3.org/1999/xhtml';
