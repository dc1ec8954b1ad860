import { Body, Controller, HttpCode, HttpStatus, ParseArrayPipe, PayloadTooLargeException, Post } from '@nestjs/common';
import { EventDto } from './event.dto.js';
import { Acceptance, EventsService } from './events.service.js';
import { VALIDATION } from './validation.js';

const MAX_BATCH = 1_000;

@Controller('events')
export class EventsController {
  constructor(private readonly events: EventsService) {}

  @Post()
  @HttpCode(HttpStatus.ACCEPTED)
  async postOne(@Body() event: EventDto): Promise<Acceptance> {
    return this.events.accept(event);
  }

  /** One event that is out of shape turns the whole batch away. */
  @Post('batch')
  @HttpCode(HttpStatus.ACCEPTED)
  async postBatch(
    @Body(new ParseArrayPipe({ ...VALIDATION, items: EventDto })) events: EventDto[],
  ): Promise<{ items: Acceptance[] }> {
    if (events.length > MAX_BATCH) throw new PayloadTooLargeException(`A batch has at most ${MAX_BATCH} events`);
    return { items: await this.events.acceptAll(events) };
  }
}
