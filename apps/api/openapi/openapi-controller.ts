import { Controller, Get, Header } from '@nestjs/common';
import { ApiTags, type OpenAPIObject } from '@nestjs/swagger';
import { Open } from '../identity/roles.js';
import { Answers } from './describe.js';
import { OpenApiSource } from './openapi-source.js';

@ApiTags('service')
@Open()
@Controller('openapi.json')
export class OpenApiController {
  constructor(private readonly source: OpenApiSource) {}

  @Get()
  @Header('cache-control', 'public, max-age=300')
  @Answers(200, 'This document.', { type: 'object' })
  getOpenApi(): OpenAPIObject {
    return this.source.get();
  }
}
