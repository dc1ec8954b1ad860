import { Type } from 'class-transformer';
import { ArrayMaxSize, IsArray, IsOptional, IsString, Matches, MaxLength, ValidateNested } from 'class-validator';
import { NAME } from './heat.dto.js';

class LotsDto {
  @IsOptional()
  @IsString()
  @MaxLength(200)
  readonly flux?: string;

  @IsOptional()
  @IsString()
  @MaxLength(200)
  readonly solder?: string;

  @IsOptional()
  @IsString()
  @MaxLength(200)
  readonly paste?: string;

  @IsOptional()
  @IsString()
  @MaxLength(200)
  readonly balls?: string;
}

/** What every event may say besides its own facts, and all that some say. */
export class CommonDto {
  @IsOptional()
  @Matches(NAME)
  readonly operator?: string;

  @IsOptional()
  @Matches(NAME)
  readonly clearance?: string;

  @IsOptional()
  @IsString()
  @MaxLength(2_000)
  readonly note?: string;

  @IsOptional()
  @ValidateNested()
  @Type(() => LotsDto)
  readonly lots?: LotsDto;

  @IsOptional()
  @IsArray()
  @ArrayMaxSize(32)
  @IsString({ each: true })
  readonly attachments?: string[];
}
