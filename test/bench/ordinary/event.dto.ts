import { Type } from 'class-transformer';
import {
  Equals,
  IsIn,
  IsObject,
  IsOptional,
  IsRFC3339,
  IsString,
  Length,
  Matches,
  Validate,
  ValidateNested,
} from 'class-validator';
import { EVENT_DATA, type EventData, eventDataClass, type EventType } from './event-data.dto.js';
import { SubjectSuitsType } from './subject-suits-type.js';

/** A CloudEvents envelope and, by its type, the data in it. */
export class EventDto {
  @Equals('1.0')
  readonly specversion!: '1.0';

  @IsIn(Object.keys(EVENT_DATA))
  readonly type!: EventType;

  @Matches(/^\/stations\/[A-Za-z0-9._:-]{1,64}$/)
  readonly source!: string;

  @IsString()
  @Length(1, 200)
  readonly id!: string;

  @Validate(SubjectSuitsType)
  readonly subject!: string;

  @IsRFC3339()
  readonly time!: string;

  @IsOptional()
  @Equals('application/json')
  readonly datacontenttype?: string;

  // What tells the classes apart is in the envelope and not in the data, so it cannot be a `discriminator`.
  @IsObject()
  @ValidateNested()
  @Type((help) => eventDataClass(help?.object['type']))
  readonly data!: EventData;
}
