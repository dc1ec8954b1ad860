import '@fontsource-variable/atkinson-hyperlegible-next/index.css';
import '@fontsource-variable/atkinson-hyperlegible-mono/index.css';
import './desk.css';
import { StrictMode } from 'react';
import { createRoot } from 'react-dom/client';
import { Desk } from './desk.js';

const place = document.getElementById('desk');
if (place === null) throw new Error('The page has no place for the desk: index.html lost its element "desk".');
createRoot(place).render(
  <StrictMode>
    <Desk />
  </StrictMode>,
);
