import { Type } from 'class-transformer';
import {
  ArrayMaxSize,
  IsArray,
  IsInt,
  IsNumber,
  IsOptional,
  IsRFC3339,
  IsString,
  Matches,
  MaxLength,
  Min,
  ValidateNested,
} from 'class-validator';
import { CommonDto } from './common.dto.js';
import { NAME } from './heat.dto.js';

class MountedDeviceDto {
  @Matches(NAME)
  readonly refdes!: string;

  @IsOptional()
  @Matches(NAME)
  readonly device?: string;

  @IsOptional()
  @IsInt()
  @Min(0)
  readonly priorExcursions?: number;
}

class KnownSiteDto {
  @Matches(NAME)
  readonly refdes!: string;

  @IsOptional()
  @IsInt()
  @Min(0)
  readonly priorReworks?: number;
}

export class UnitReceivedDto extends CommonDto {
  @IsOptional()
  @IsString()
  @MaxLength(200)
  readonly workOrder?: string;

  @IsOptional()
  @IsString()
  @MaxLength(2_000)
  readonly complaint?: string;

  @IsOptional()
  @IsInt()
  @Min(0)
  readonly priorReflows?: number;

  @IsOptional()
  @IsArray()
  @ArrayMaxSize(1_000)
  @ValidateNested({ each: true })
  @Type(() => MountedDeviceDto)
  readonly devices?: MountedDeviceDto[];

  @IsOptional()
  @IsArray()
  @ArrayMaxSize(1_000)
  @ValidateNested({ each: true })
  @Type(() => KnownSiteDto)
  readonly sites?: KnownSiteDto[];
}

export class DeviceReceivedDto extends CommonDto {
  @Matches(NAME)
  readonly part!: string;

  @IsOptional()
  @IsString()
  @MaxLength(200)
  readonly lot?: string;

  @IsOptional()
  @IsString()
  @MaxLength(200)
  readonly dateCode?: string;

  @IsOptional()
  @IsString()
  @MaxLength(200)
  readonly owner?: string;

  @IsOptional()
  @IsInt()
  @Min(0)
  readonly priorExcursions?: number;

  @IsOptional()
  @IsRFC3339()
  readonly packSealedAt?: string;
}

export class BakedDto extends CommonDto {
  @IsNumber()
  readonly temperatureC!: number;

  @IsOptional()
  @IsNumber()
  readonly relativeHumidityPct?: number;

  @IsRFC3339()
  readonly startedAt!: string;

  @IsRFC3339()
  readonly endedAt!: string;

  @IsOptional()
  @IsNumber()
  @Min(0)
  readonly interruptedMinutes?: number;
}
