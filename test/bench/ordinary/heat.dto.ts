import { Type } from 'class-transformer';
import {
  ArrayMaxSize,
  IsArray,
  IsIn,
  IsNumber,
  IsOptional,
  IsRFC3339,
  IsString,
  Matches,
  Max,
  MaxLength,
  Min,
  ValidateNested,
} from 'class-validator';

export const NAME = /^[A-Za-z0-9._:-]{1,64}$/;

export class ProfileDto {
  @Matches(NAME)
  readonly name!: string;

  @Matches(NAME)
  readonly revision!: string;
}

export class ThermocoupleDto {
  @IsString()
  @MaxLength(64)
  readonly id!: string;

  @IsOptional()
  @Matches(NAME)
  readonly refdes?: string;

  @IsIn(['joint', 'body', 'die', 'board', 'air'])
  readonly position!: 'joint' | 'body' | 'die' | 'board' | 'air';

  @IsNumber()
  @Min(-100)
  @Max(2_000)
  readonly peakC!: number;

  @IsOptional()
  @IsNumber()
  @Min(0)
  readonly secondsAboveLiquidus?: number;

  @IsOptional()
  @IsNumber()
  readonly liquidusC?: number;

  @IsOptional()
  @IsNumber()
  readonly maxRiseCPerS?: number;

  @IsOptional()
  @IsNumber()
  readonly maxFallCPerS?: number;

  @IsOptional()
  @IsNumber()
  readonly uncertaintyC?: number;
}

/** One exposure to heat as the station summed it up. */
export class HeatDto {
  @IsRFC3339()
  readonly startedAt!: string;

  @IsRFC3339()
  readonly endedAt!: string;

  @IsArray()
  @ArrayMaxSize(64)
  @ValidateNested({ each: true })
  @Type(() => ThermocoupleDto)
  readonly thermocouples!: ThermocoupleDto[];

  @IsOptional()
  @IsString()
  @MaxLength(200)
  readonly trace?: string;
}
