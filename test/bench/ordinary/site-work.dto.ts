import { Type } from 'class-transformer';
import {
  ArrayMaxSize,
  IsArray,
  IsBoolean,
  IsIn,
  IsInt,
  IsNumber,
  IsObject,
  IsOptional,
  IsString,
  Matches,
  Max,
  MaxLength,
  Min,
  ValidateNested,
} from 'class-validator';
import { CommonDto } from './common.dto.js';
import { HeatDto, NAME, ProfileDto } from './heat.dto.js';

export class SiteDressedDto extends CommonDto {
  @Matches(NAME)
  readonly refdes!: string;

  @IsIn(['braid', 'vacuum', 'fountain', 'coupon'])
  readonly method!: 'braid' | 'vacuum' | 'fountain' | 'coupon';

  @Matches(NAME)
  readonly solderAlloy!: string;

  @IsInt()
  @Min(1)
  readonly passes!: number;

  @IsNumber()
  @Min(0)
  readonly contactSeconds!: number;

  @IsOptional()
  @IsNumber()
  readonly solderC?: number;

  @IsOptional()
  @IsBoolean()
  readonly flowing?: boolean;

  @IsOptional()
  @IsString()
  @MaxLength(200)
  readonly flux?: string;

  @IsOptional()
  @IsNumber()
  readonly remnantHeightUm?: number;

  @IsOptional()
  @IsNumber()
  @Min(0)
  readonly nozzleSpeedMmPerS?: number;

  @IsOptional()
  @IsObject()
  @ValidateNested()
  @Type(() => ProfileDto)
  readonly profile?: ProfileDto;

  @IsOptional()
  @IsObject()
  @ValidateNested()
  @Type(() => HeatDto)
  readonly heat?: HeatDto;
}

export class SiteCleanedDto extends CommonDto {
  @Matches(NAME)
  readonly refdes!: string;

  @IsString()
  @MaxLength(200)
  readonly agent!: string;
}

class InspectionTargetDto {
  @IsIn(['site', 'device', 'unit'])
  readonly kind!: 'site' | 'device' | 'unit';

  @IsOptional()
  @Matches(NAME)
  readonly refdes?: string;

  @IsOptional()
  @Matches(NAME)
  readonly device?: string;
}

class DefectDto {
  @IsString()
  @MaxLength(64)
  readonly code!: string;

  @IsOptional()
  @IsArray()
  @ArrayMaxSize(10_000)
  @Matches(NAME, { each: true })
  readonly pads?: string[];
}

export class InspectionRecordedDto extends CommonDto {
  @IsObject()
  @ValidateNested()
  @Type(() => InspectionTargetDto)
  readonly target!: InspectionTargetDto;

  @IsIn(['visual', 'xray', 'height-map', 'xrf', 'ionic', 'electrical'])
  readonly technique!: string;

  @IsIn(['pass', 'fail'])
  readonly result!: 'pass' | 'fail';

  @IsOptional()
  @IsArray()
  @ArrayMaxSize(1_000)
  @ValidateNested({ each: true })
  @Type(() => DefectDto)
  readonly defects?: DefectDto[];

  @IsOptional()
  @IsNumber()
  @Min(0)
  @Max(100)
  readonly leadPct?: number;
}
