import { Type } from 'class-transformer';
import { IsIn, IsNumber, IsObject, IsOptional, Matches, Min, ValidateNested } from 'class-validator';
import { CommonDto } from './common.dto.js';
import { HeatDto, NAME, ProfileDto } from './heat.dto.js';

class ProfiledHeatDto extends CommonDto {
  @Matches(NAME)
  readonly refdes!: string;

  @IsObject()
  @ValidateNested()
  @Type(() => ProfileDto)
  readonly profile!: ProfileDto;

  @IsObject()
  @ValidateNested()
  @Type(() => HeatDto)
  readonly heat!: HeatDto;
}

export class DeviceRemovedDto extends ProfiledHeatDto {
  @IsOptional()
  @Matches(NAME)
  readonly device?: string;

  @IsIn(['scrap', 'keep'])
  readonly fate!: 'scrap' | 'keep';
}

export class DevicePlacedDto extends ProfiledHeatDto {
  @Matches(NAME)
  readonly device!: string;

  @IsOptional()
  @Matches(NAME)
  readonly part?: string;

  @IsIn(['flux', 'paste'])
  readonly attach!: 'flux' | 'paste';

  @IsOptional()
  @Matches(NAME)
  readonly pasteAlloy?: string;

  @IsOptional()
  @IsNumber()
  @Min(0)
  readonly pasteVolumeMm3?: number;
}

export class DeviceReballedDto extends CommonDto {
  @Matches(NAME)
  readonly ballAlloy!: string;

  @IsNumber()
  @Min(0)
  readonly ballDiameterMm!: number;

  @IsOptional()
  @IsObject()
  @ValidateNested()
  @Type(() => HeatDto)
  readonly heat?: HeatDto;
}
