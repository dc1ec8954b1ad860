import { Controller, Get, Header } from '@nestjs/common';
import { ApiTags } from '@nestjs/swagger';
import { Open } from '../identity/roles.js';
import { Answers } from '../openapi/describe.js';
import type { Schema } from '../openapi/schema-parts.js';
import { asyncApiDocument } from './asyncapi-document.js';

@ApiTags('service')
@Open()
@Controller('asyncapi.json')
export class AsyncApiController {
  private readonly document = asyncApiDocument();

  @Get()
  @Header('cache-control', 'public, max-age=300')
  @Answers(200, 'Station events over HTTP and MQTT, as AsyncAPI 3.0 describes them.', { type: 'object' })
  getAsyncApi(): Schema {
    return this.document;
  }
}
