/** Ids are made by whoever creates the thing (8 to 64 of `A–Z a–z 0–9 _ -`); what a command creates carries its id (S8). */
export type CommandId = string;
export type VisitId = string;
export type PersonId = string;
export type DirectionsId = string;
export type ServiceId = string;
export type DeviceId = string;

/** Number of a chair or basin, 1 to 999, unique over both; it is what the number pad types. */
export type PlaceNumber = number;
