/** A file a person gave: the name to call it by and where it lies. */
export interface InputFile {
  name: string;
  path: string;
}

/** What a folder or a drop holds, sorted by what each file is for. */
export interface InputSet {
  /** Name of the folder or file, the property's name until property.json says otherwise. */
  name: string;
  elevation: InputFile[];
  imagery: InputFile[];
  landcover: InputFile[];
  boundary: InputFile[];
  features: InputFile[];
  wind: InputFile[];
  settings: InputFile | null;
  /** Files whose names say nothing; GeoTIFFs among them are looked into when no elevation is named. */
  unknown: InputFile[];
}

export const emptySet = (name: string): InputSet => ({
  name,
  elevation: [],
  imagery: [],
  landcover: [],
  boundary: [],
  features: [],
  wind: [],
  settings: null,
  unknown: [],
});
